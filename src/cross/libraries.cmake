# The libraries as sources, for a program that needs none on the machine it runs on: Debian packs no static
# one of Clipper, and of GeographicLib none for another processor beside this one's.
set(KEYHOUR_SOURCES "${PROJECT_BINARY_DIR}/sources" CACHE PATH "Where src/cross/sources.sh lays its sources")
execute_process(COMMAND ${CMAKE_CURRENT_LIST_DIR}/sources.sh ${KEYHOUR_SOURCES} COMMAND_ERROR_IS_FATAL ANY)
file(GLOB geographic_folder ${KEYHOUR_SOURCES}/geographiclib-*/src)
file(GLOB clipper_folder ${KEYHOUR_SOURCES}/libpolyclipping-*/cpp)

set(geographic_files Accumulator CircularEngine DMS DST EllipticFunction GeoCoords Geocentric Geodesic GeodesicExact
    GeodesicLine GeodesicLineExact LocalCartesian MGRS Math PolarStereographic SphericalEngine TransverseMercator
    UTMUPS Utility)
list(TRANSFORM geographic_files PREPEND ${geographic_folder}/)
list(TRANSFORM geographic_files APPEND .cpp)
add_library(keyhour_geographic STATIC ${geographic_files})
add_library(PkgConfig::GeographicLib ALIAS keyhour_geographic)

add_library(keyhour_clipper STATIC ${clipper_folder}/clipper.cpp)
target_include_directories(keyhour_clipper SYSTEM PUBLIC ${clipper_folder})
add_library(PkgConfig::polyclipping ALIAS keyhour_clipper)
target_compile_options(keyhour_geographic PRIVATE -w)  # as Debian has them
target_compile_options(keyhour_clipper PRIVATE -w)

# What is headers alone serves every processor as it is, and the compiler finds it.
add_library(date::date INTERFACE IMPORTED)
add_library(tomlplusplus::tomlplusplus INTERFACE IMPORTED)
add_library(fmt::fmt INTERFACE IMPORTED)
target_compile_definitions(fmt::fmt INTERFACE FMT_HEADER_ONLY=1)
