# The script that the build runs for completions and the schemas of the commands SCHEMAS: PROGRAM
# writes them into the folder OUTPUT.
foreach(shell bash zsh fish)
  execute_process(COMMAND ${PROGRAM} completion ${shell} OUTPUT_VARIABLE text
                  COMMAND_ERROR_IS_FATAL ANY)
  if(shell STREQUAL zsh)
    file(WRITE ${OUTPUT}/_nightbank "${text}")
  else()
    file(WRITE ${OUTPUT}/nightbank.${shell} "${text}")
  endif()
endforeach()
foreach(command IN LISTS SCHEMAS)
  execute_process(COMMAND ${PROGRAM} ${command} --schema OUTPUT_FILE ${OUTPUT}/${command}.schema.json
                  COMMAND_ERROR_IS_FATAL ANY)
endforeach()
