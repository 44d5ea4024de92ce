# Packages by CPack: keyhour (the program) and libkeyhour-dev (the library).
#   cmake --build --preset release && cd build/release && cpack
set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_VENDOR "the keyhour authors")
set(CPACK_PACKAGE_CONTACT "The keyhour authors <authors@keyhour.example>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "when the sun gives a clean key through a window")
set(CPACK_VERBATIM_VARIABLES ON)
set(CPACK_STRIP_FILES ON)
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_COMPONENTS_ALL program development)
set(CPACK_COMPONENTS_GROUPING ONE_PER_GROUP)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION video)

set(CPACK_DEBIAN_PROGRAM_PACKAGE_NAME keyhour)
set(CPACK_COMPONENT_PROGRAM_DESCRIPTION
    "For a small film crew on a location scout: when the sun, or a lamp standing
 in for it, comes through this window onto this mark and nowhere else, how
 long it holds, and what must be covered by when. With its manual pages,
 completions for bash, zsh and fish, and example locations.")
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_RECOMMENDS tzdata)
set(CPACK_DEBIAN_PROGRAM_PACKAGE_SUGGESTS "man-db, librsvg2-bin | chromium")

set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_NAME libkeyhour-dev)
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_SECTION libdevel)
set(CPACK_COMPONENT_DEVELOPMENT_DESCRIPTION
    "The library of keyhour, static, with headers and a CMake package: sun,
 rooms, light, and the questions that the program keyhour answers.")
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_DEPENDS
    "libexpected-dev, libfmt-dev, libgecode-dev, libgeographiclib-dev, libhowardhinnant-date-dev, libpolyclipping-dev, nlohmann-json3-dev, pkg-config")

# Debian's policy: a change log, packed; and each package its own copyright file.
set(changelog ${PROJECT_BINARY_DIR}/packaging/changelog.gz)
add_custom_command(OUTPUT ${changelog}
                   COMMAND gzip -9nc ${CMAKE_CURRENT_LIST_DIR}/changelog > ${changelog}
                   DEPENDS ${CMAKE_CURRENT_LIST_DIR}/changelog)
add_custom_target(packed_changelog ALL DEPENDS ${changelog})
install(FILES ${changelog} DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT program)
install(FILES ${changelog} ${PROJECT_BINARY_DIR}/packaging/copyright
        DESTINATION ${CMAKE_INSTALL_DATAROOTDIR}/doc/libkeyhour-dev COMPONENT development)
include(CPack)
