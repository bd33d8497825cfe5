option(NIGHTBANK_TESTS "build the tests" ON)
option(NIGHTBANK_BENCH "build tools/bench" OFF)
option(NIGHTBANK_PLOTS "pages carry a plotting library (npm, at build time); else drawings only" ON)
option(NIGHTBANK_STRICT "warnings are errors" ON)
# Most of the work is in the headers that sources share. So the names of a room are its own, those of
# unnamed namespaces too.
option(CMAKE_UNITY_BUILD "compile a few sources at a time: a whole build in half the time" ON)
set(CMAKE_UNITY_BUILD_BATCH_SIZE 6 CACHE STRING "how many at a time")
# -O2, as a distribution builds it: what is tested and measured is what people get.
string(REPLACE "-O3" "-O2" CMAKE_CXX_FLAGS_RELEASE "${CMAKE_CXX_FLAGS_RELEASE}")
set(NIGHTBANK_SANITIZE "" CACHE STRING "comma list for -fsanitize, e.g. address,undefined")

add_library(nightbank_options INTERFACE)
target_compile_options(
  nightbank_options
  INTERFACE -Wall -Wextra -Wpedantic -Wshadow -Wconversion -Wsign-conversion -Wold-style-cast
            -Wdouble-promotion -Wnon-virtual-dtor -Woverloaded-virtual
            # The same digits on every compiler and at every optimisation: no fused multiply-add.
            -ffp-contract=off
            # Lets ccache see through precompiled headers.
            $<$<CXX_COMPILER_ID:GNU>:-fpch-preprocess>
            $<$<CXX_COMPILER_ID:GNU>:-Wduplicated-cond -Wlogical-op -Wnull-dereference>
            $<$<BOOL:${NIGHTBANK_STRICT}>:-Werror>
            $<$<CONFIG:Debug>:-D_GLIBCXX_ASSERTIONS>)
if(NIGHTBANK_SANITIZE)
  # Left out, for a quarter of the time to build: a null pointer and an object's end, whose use the
  # address sanitizer reports; vptr, since the exceptions alone are virtual; alignment, although
  # sim/scenario/fields casts erased pointers, each to the type that it came from.
  target_compile_options(
    nightbank_options INTERFACE -fsanitize=${NIGHTBANK_SANITIZE}
                                -fno-sanitize=null,alignment,object-size,vptr
                                -fno-sanitize-recover=all)
  target_link_options(nightbank_options INTERFACE -fsanitize=${NIGHTBANK_SANITIZE})
  # Tests that take minutes there do less, or are left to the other builds.
  target_compile_definitions(nightbank_options INTERFACE NIGHTBANK_SANITIZED)
endif()
