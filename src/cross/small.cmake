# What makes a static program small: it is optimised as one piece, whose equal functions are kept once; and nothing
# of ours throws, so that only what hears others throw need be unwound. What is thrown elsewhere ends the program with
# words and a code (src/cli/thrown.hpp).
set(parts keyhour_core keyhour_text keyhour_base keyhour_cli keyhour)
set(catching cli/argument_parser.cpp cli/thrown.cpp read/footprints.cpp site/position.cpp site/magnetic.cpp
    site/posix_zone.cpp)
foreach(part ${parts})
    target_compile_options(${part} PRIVATE -fno-exceptions -fno-unwind-tables -fno-asynchronous-unwind-tables)
endforeach()
set_source_files_properties(${catching} PROPERTIES SKIP_UNITY_BUILD_INCLUSION ON
                            COMPILE_OPTIONS "-fexceptions;-funwind-tables;-fasynchronous-unwind-tables")
# Its JSON throws where the others' stops: two kinds of one library, so two names.
set_source_files_properties(read/footprints.cpp PROPERTIES COMPILE_DEFINITIONS nlohmann=nlohmann_that_throws)
