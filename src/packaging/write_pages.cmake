# Writes the manual's pages (man(1), packed as man-db and Debian want them) and the shells' completions.
#   cmake -DPROGRAM=keyhour -DFOLDER=build/release/pages -P src/packaging/write_pages.cmake
file(MAKE_DIRECTORY ${FOLDER}/man ${FOLDER}/bash ${FOLDER}/zsh ${FOLDER}/fish)
execute_process(COMMAND ${PROGRAM} help --man ${FOLDER}/man COMMAND_ERROR_IS_FATAL ANY)
file(GLOB pages ${FOLDER}/man/*.1 ${FOLDER}/man/*.7)
# -n: no name and no time, so that two builds are the same.
execute_process(COMMAND gzip -9nkf ${pages} COMMAND_ERROR_IS_FATAL ANY)
foreach(place bash/keyhour zsh/_keyhour fish/keyhour.fish)
    get_filename_component(shell ${place} DIRECTORY)
    execute_process(COMMAND ${PROGRAM} help --completion ${shell} OUTPUT_FILE ${FOLDER}/${place}
                    COMMAND_ERROR_IS_FATAL ANY)
endforeach()
