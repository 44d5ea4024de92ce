# The pocket page's body, style and script as they go into the program, and the SHA-256 by which its
# content security policy names style and script. After page/embed.cmake, whose function it uses.
set(pocket ${CMAKE_CURRENT_SOURCE_DIR}/tell/pocket)
# In this order: what a file uses when the page opens stands before it.
set(pocket_scripts dom toml location length store night library problems lines beside field frame walk rectangle corners
                   bearing things form sketch plan questions compare answer files page)
file(READ ${pocket}/pocket.html KEYHOUR_POCKET_BODY)
file(READ ${pocket}/pocket.css KEYHOUR_POCKET_STYLE)
set(KEYHOUR_POCKET_SCRIPT "\"use strict\";\n(() => {\n")
foreach(script ${pocket_scripts})
    file(READ ${pocket}/${script}.js text)
    # What is written for us alone stays here: lines of comment alone.
    string(REGEX REPLACE "\n *//[^\n]*" "" text "\n${text}")
    string(APPEND KEYHOUR_POCKET_SCRIPT "${text}")
    set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS ${pocket}/${script}.js)
endforeach()
string(APPEND KEYHOUR_POCKET_SCRIPT "})();\n")
set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS ${pocket}/pocket.html ${pocket}/pocket.css)
file(WRITE ${CMAKE_CURRENT_BINARY_DIR}/pocket.js "${KEYHOUR_POCKET_SCRIPT}")
keyhour_base64_sha256(${pocket}/pocket.css KEYHOUR_POCKET_STYLE_HASH)
keyhour_base64_sha256(${CMAKE_CURRENT_BINARY_DIR}/pocket.js KEYHOUR_POCKET_SCRIPT_HASH)
configure_file(${pocket}/pocket_parts.cpp.in ${CMAKE_CURRENT_BINARY_DIR}/pocket_parts.cpp @ONLY)
