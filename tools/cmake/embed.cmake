# nightbank_embed(TARGET NAME FILE): puts the bytes of FILE into TARGET, behind an accessor.
#
#     nightbank_embed(nightbank_program builtInScenario ${PROJECT_SOURCE_DIR}/scenarios/some.yaml)
#
# writes <build>/embedded/builtInScenario.cpp at build time, and again whenever FILE changes. The
# declaration is committed, in a header of the room that uses it, and says what the text is:
#
#     #include <string_view>
#
#     namespace nightbank::embedded {
#
#     /// The scenario that `run` answers where no file is named.
#     std::string_view builtInScenario();
#
#     }  // namespace nightbank::embedded
#
# NAME is a C++ identifier. FILE may hold any bytes. A zero follows the view's last one.
if(NOT CMAKE_SCRIPT_MODE_FILE)
  set(NIGHTBANK_EMBED_SCRIPT ${CMAKE_CURRENT_LIST_FILE})

  function(nightbank_embed target name file)
    get_filename_component(file ${file} ABSOLUTE)
    set(output ${PROJECT_BINARY_DIR}/embedded/${name}.cpp)
    add_custom_command(
      OUTPUT ${output}
      COMMAND ${CMAKE_COMMAND} -DNAME=${name} -DINPUT=${file} -DOUTPUT=${output} -P
              ${NIGHTBANK_EMBED_SCRIPT}
      DEPENDS ${file} ${NIGHTBANK_EMBED_SCRIPT}
      VERBATIM)
    set_source_files_properties(${output} PROPERTIES SKIP_UNITY_BUILD_INCLUSION ON)
    target_sources(${target} PRIVATE ${output})
  endfunction()
  return()
endif()

# From here on: the script that the build runs. Character literals, since a string literal may be too
# long for a compiler and a list of numbers does not convert to a signed char.
file(READ ${INPUT} bytes HEX)
string(REGEX REPLACE "(................................)" "\\1\n" bytes "${bytes}")  # 16 a line
string(REGEX REPLACE "([0-9a-f][0-9a-f])" "'\\\\x\\1'," bytes "${bytes}")
file(WRITE ${OUTPUT} "// Made by tools/cmake/embed.cmake. NOLINTBEGIN
#include <string_view>

namespace nightbank::embedded {
std::string_view ${NAME}();
}  // namespace nightbank::embedded

namespace {
constexpr char kBytes[] = {
${bytes}
'\\0'};
}  // namespace

std::string_view nightbank::embedded::${NAME}() { return {kBytes, sizeof kBytes - 1}; }
// NOLINTEND
")
