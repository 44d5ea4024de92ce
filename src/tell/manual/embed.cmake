# The manual's topics, as they go into the program: MANUAL_TOPICS, a string literal for each.
file(GLOB manual_topics CONFIGURE_DEPENDS ${CMAKE_CURRENT_SOURCE_DIR}/tell/manual/*.md)
set_property(DIRECTORY APPEND PROPERTY CMAKE_CONFIGURE_DEPENDS ${manual_topics})
set(KEYHOUR_MANUAL_TOPICS "")
foreach(topic IN LISTS manual_topics)
    file(READ ${topic} text)
    string(APPEND KEYHOUR_MANUAL_TOPICS "    R\"manual(${text})manual\",\n")
endforeach()
configure_file(${CMAKE_CURRENT_SOURCE_DIR}/tell/manual/manual_parts.cpp.in
               ${CMAKE_CURRENT_BINARY_DIR}/manual_parts.cpp @ONLY)
