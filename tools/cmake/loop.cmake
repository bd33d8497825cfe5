# The loop that runs millions of times, and the formulas that it calls all the time.
# nightbank_loop(SOURCES...): of this folder, these are part of it.
function(nightbank_loop)
  list(TRANSFORM ARGN PREPEND ${CMAKE_CURRENT_SOURCE_DIR}/)
  set_property(GLOBAL APPEND PROPERTY nightbank_loop ${ARGN})
endfunction()

# nightbank_add_loop(TARGET): adds all of them, once every folder has told its own. In a release in one
# go, so that a piece's small steps are inlined wherever they stand: a tenth of its instructions. Another
# tenth of its time: more is inlined than by default, and small structures are cleared and copied without
# string instructions, which are slow to begin with; pairs of numbers do not share a register, for the next
# step reads them one by one. No flag moves a digit.
function(nightbank_add_loop target)
  get_property(sources GLOBAL PROPERTY nightbank_loop)
  if(NOT CMAKE_BUILD_TYPE STREQUAL "Release")
    target_sources(${target} PRIVATE ${sources})
    return()
  endif()
  list(TRANSFORM sources REPLACE "(.+)" "#include \"\\1\"\n" OUTPUT_VARIABLE lines)
  list(JOIN lines "" lines)
  set(all ${CMAKE_CURRENT_BINARY_DIR}/loop.cpp)
  file(CONFIGURE OUTPUT ${all} CONTENT "${lines}" @ONLY)
  target_sources(${target} PRIVATE ${all})
  set(options -O3 -fno-math-errno)
  if(CMAKE_CXX_COMPILER_ID STREQUAL "GNU")
    list(APPEND options -fno-tree-vectorize --param=max-inline-insns-auto=60
         --param=inline-unit-growth=100)
    if(CMAKE_SYSTEM_PROCESSOR STREQUAL "x86_64")
      foreach(set IN ITEMS memset memcpy)
        list(APPEND options -m${set}-strategy=vector_loop:512:noalign,libcall:-1:noalign)
      endforeach()
    endif()
  endif()
  set_source_files_properties(
    ${all} PROPERTIES SKIP_UNITY_BUILD_INCLUSION ON SKIP_PRECOMPILE_HEADERS ON COMPILE_OPTIONS
                                                                               "${options}")
endfunction()
