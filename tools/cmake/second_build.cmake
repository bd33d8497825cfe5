# nightbank_second_build(NAME FLAGS...): all of the library that a run needs (neither studies nor
# reports) once more, as target NAME, from the same sources and settings with FLAGS after all others, to
# compare what two builds compute. Call it after sim/ has been added, when the list of sources is whole.
function(nightbank_second_build name)
  get_target_property(sources nightbank SOURCES)
  list(FILTER sources EXCLUDE REGEX "/(study|report|embedded)/")
  add_library(${name} STATIC EXCLUDE_FROM_ALL ${sources})
  foreach(property INCLUDE_DIRECTORIES COMPILE_DEFINITIONS COMPILE_OPTIONS LINK_LIBRARIES
                   INTERFACE_INCLUDE_DIRECTORIES INTERFACE_LINK_LIBRARIES)
    get_target_property(value nightbank ${property})
    if(value)
      set_target_properties(${name} PROPERTIES ${property} "${value}")
    endif()
  endforeach()
  target_compile_options(${name} PRIVATE ${ARGN})
  target_precompile_headers(${name} PRIVATE ${PROJECT_SOURCE_DIR}/sim/precompiled.h)
  add_dependencies(${name} nightbank)  # whatever makes a source for the one has run for the other
endfunction()
