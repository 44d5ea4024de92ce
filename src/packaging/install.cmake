# What is installed: the program with its manual and completions, and the library for other programs.
include(GNUInstallDirs)
include(CMakePackageConfigHelpers)

# --- The program
install(TARGETS keyhour COMPONENT program)
# Manual pages and completions: the program writes them, from the words that it prints itself.
if(NOT CMAKE_CROSSCOMPILING OR CMAKE_CROSSCOMPILING_EMULATOR)
    set(pages ${PROJECT_BINARY_DIR}/pages)
    add_custom_command(OUTPUT ${pages}/man/keyhour.1
                       COMMAND ${CMAKE_COMMAND} -DPROGRAM=$<TARGET_FILE:keyhour> -DFOLDER=${pages}
                               -P ${CMAKE_CURRENT_LIST_DIR}/write_pages.cmake
                       DEPENDS keyhour ${CMAKE_CURRENT_LIST_DIR}/write_pages.cmake VERBATIM)
    add_custom_target(manual_pages ALL DEPENDS ${pages}/man/keyhour.1)
    foreach(section 1 7)
        install(DIRECTORY ${pages}/man/ DESTINATION ${CMAKE_INSTALL_MANDIR}/man${section}
                COMPONENT program FILES_MATCHING PATTERN "*.${section}.gz")
    endforeach()
    install(FILES ${pages}/bash/keyhour DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions
            COMPONENT program)
    install(FILES ${pages}/zsh/_keyhour DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/vendor-completions
            COMPONENT program)
    install(FILES ${pages}/fish/keyhour.fish
            DESTINATION ${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d COMPONENT program)
endif()
# Places to try the manual's examples on, without this repository.
install(DIRECTORY ${PROJECT_SOURCE_DIR}/locations DESTINATION ${CMAKE_INSTALL_DATADIR}/keyhour
        COMPONENT program)
# Keyhour for a page ("keyhour pocket"), where the preset "wasm-library" has built it.
set(KEYHOUR_WASM_LIBRARY_FILE ${PROJECT_SOURCE_DIR}/build/wasm-library/keyhour.wasm.gz CACHE FILEPATH
    "The whole library as WebAssembly, packed, to be installed beside the program")
install(FILES ${KEYHOUR_WASM_LIBRARY_FILE} DESTINATION ${CMAKE_INSTALL_DATADIR}/keyhour COMPONENT program OPTIONAL)
# The magnetic model as data: the program carries its own copy, other tools can read this one.
install(DIRECTORY ${PROJECT_SOURCE_DIR}/src/site/wmm2025 DESTINATION ${CMAKE_INSTALL_DATADIR}/keyhour
        COMPONENT program)

# What keyhour is under, and each part of others with its version and licence.
file(READ ${CMAKE_CURRENT_LIST_DIR}/dependencies.md dependencies)
string(REGEX MATCHALL "\n\\| [a-z0-9-]+ \\| [0-9][^\n]*" rows "${dependencies}")
set(KEYHOUR_DEPENDENCIES "")
foreach(row ${rows})
    string(REGEX REPLACE "^\n\\| ([^|]*) \\| ([^|]*) \\| ([^|]*) \\| ([^|]*) \\|$" "\\1 \\2, \\3: \\4" row "${row}")
    string(APPEND KEYHOUR_DEPENDENCIES "\n  ${row}")
endforeach()
configure_file(${CMAKE_CURRENT_LIST_DIR}/copyright.in ${PROJECT_BINARY_DIR}/packaging/copyright @ONLY)
install(FILES ${PROJECT_BINARY_DIR}/packaging/copyright DESTINATION ${CMAKE_INSTALL_DOCDIR}
        COMPONENT program)

# --- The library
set_target_properties(keyhour_core PROPERTIES EXPORT_NAME core)
set_target_properties(keyhour_base PROPERTIES EXPORT_NAME keyhour)
set_target_properties(keyhour_c PROPERTIES EXPORT_NAME c)
add_library(keyhour::core ALIAS keyhour_core)
add_library(keyhour::c ALIAS keyhour_c)
add_library(keyhour::keyhour ALIAS keyhour_base)
install(TARGETS keyhour_core keyhour_c keyhour_base EXPORT keyhour_targets COMPONENT development)
install(DIRECTORY ${PROJECT_SOURCE_DIR}/include/keyhour DESTINATION ${CMAKE_INSTALL_INCLUDEDIR}
        COMPONENT development FILES_MATCHING PATTERN "*.hpp" PATTERN "*.h")
set(config_folder ${CMAKE_INSTALL_LIBDIR}/cmake/keyhour)
install(EXPORT keyhour_targets NAMESPACE keyhour:: FILE keyhourTargets.cmake
        DESTINATION ${config_folder} COMPONENT development)
configure_package_config_file(
    ${CMAKE_CURRENT_LIST_DIR}/keyhourConfig.cmake.in ${PROJECT_BINARY_DIR}/packaging/keyhourConfig.cmake
    INSTALL_DESTINATION ${config_folder} NO_SET_AND_CHECK_MACRO)
# Before 1.0 a minor version may change what callers see.
write_basic_package_version_file(${PROJECT_BINARY_DIR}/packaging/keyhourConfigVersion.cmake
                                 COMPATIBILITY SameMinorVersion)
install(FILES ${PROJECT_BINARY_DIR}/packaging/keyhourConfig.cmake
              ${PROJECT_BINARY_DIR}/packaging/keyhourConfigVersion.cmake
        DESTINATION ${config_folder} COMPONENT development)

# Each public header compiled alone: cmake --build --preset release --target public_headers
file(GLOB_RECURSE public_headers RELATIVE ${PROJECT_SOURCE_DIR}/include CONFIGURE_DEPENDS
     ${PROJECT_SOURCE_DIR}/include/keyhour/*.hpp ${PROJECT_SOURCE_DIR}/include/keyhour/*.h)
set(alone "")
foreach(header ${public_headers})
    string(REPLACE "/" "-" name ${header})
    set(source ${PROJECT_BINARY_DIR}/packaging/headers/${name}.cpp)
    file(CONFIGURE OUTPUT ${source} CONTENT "#include \"${header}\"\n#include \"${header}\"\n")
    list(APPEND alone ${source})
endforeach()
add_library(public_headers OBJECT EXCLUDE_FROM_ALL ${alone})
target_compile_options(public_headers PRIVATE -fsyntax-only)
target_include_directories(public_headers PRIVATE ${PROJECT_SOURCE_DIR}/include)
