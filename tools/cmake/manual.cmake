# The script that the build runs for the manual page: HELP2MAN makes it of PROGRAM's help, with the help
# of each command as a section of its own, into the folder OUTPUT.
function(help_of result)
  execute_process(COMMAND ${PROGRAM} ${ARGN} --help OUTPUT_VARIABLE text COMMAND_ERROR_IS_FATAL ANY)
  set(${result} "${text}" PARENT_SCOPE)
endfunction()

# Text as it stands: a backslash, a dot or a quote at the start of a line mean something to the reader
# of manual pages.
function(as_it_stands result text)
  string(REPLACE "\\" "\\e" text "${text}")
  string(REGEX REPLACE "(^|\n)([.'])" "\\1\\\\&\\2" text "${text}")
  string(REPLACE "-" "\\-" text "${text}")
  set(${result} ".nf\n${text}.fi\n" PARENT_SCOPE)
endfunction()

help_of(main)
string(REGEX MATCHALL "\n  [a-z]+ " lines "${main}")
set(sections "[name]\nnightbank \\- the night off grid of an air conditioner: does it hold, and what limits it\n")
foreach(line IN LISTS lines)
  string(REGEX REPLACE "^\n  ([a-z]+) .*" "\\1" command "${line}")
  if(command STREQUAL "nightbank")
    continue()  # an example
  endif()
  help_of(text ${command})
  as_it_stands(text "${text}")
  string(APPEND sections "\n[nightbank ${command}]\n${text}")
endforeach()
file(WRITE ${OUTPUT}/sections "${sections}")

# help2man knows headings by their capital.
string(REGEX REPLACE "\nusage:" "\nUsage:" main "${main}")
string(REGEX REPLACE "\noptions\n" "\nOptions:\n" main "${main}")
string(REGEX REPLACE "\ncommands\n" "\nCommands:\n" main "${main}")
file(WRITE ${OUTPUT}/help.txt "${main}")
execute_process(COMMAND ${PROGRAM} --version OUTPUT_FILE ${OUTPUT}/version.txt
                COMMAND_ERROR_IS_FATAL ANY)
file(WRITE ${OUTPUT}/nightbank "#!/bin/sh
case $1 in
--help) cat '${OUTPUT}/help.txt' ;;
--version) cat '${OUTPUT}/version.txt' ;;
esac
")
file(CHMOD ${OUTPUT}/nightbank PERMISSIONS OWNER_READ OWNER_WRITE OWNER_EXECUTE)
execute_process(
  COMMAND ${HELP2MAN} --no-info --section=1 --include=${OUTPUT}/sections
          --output=${OUTPUT}/nightbank.1 ${OUTPUT}/nightbank COMMAND_ERROR_IS_FATAL ANY)
execute_process(COMMAND gzip -9nf ${OUTPUT}/nightbank.1 COMMAND_ERROR_IS_FATAL ANY)
