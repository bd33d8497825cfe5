# The plotting library that a page carries along: fetched by npm into the build at build time, by the
# versions and hashes of tools/page/package-lock.json; nothing of it is committed. Where that is switched
# off or cannot be done its files are empty, and pages have drawings alone.
if(CMAKE_SCRIPT_MODE_FILE)
  execute_process(COMMAND ${NPM} ci --ignore-scripts --no-audit --no-fund --silent
                  WORKING_DIRECTORY ${OUTPUT} RESULT_VARIABLE failed ERROR_VARIABLE why)
  if(failed)
    message(WARNING "npm cannot fetch the plotting library (${why}); pages have drawings alone. "
                    "To try again, touch tools/page/package.json and build")
    file(WRITE ${OUTPUT}/plot.js "")
    file(WRITE ${OUTPUT}/plot.css "")
    file(WRITE ${OUTPUT}/licence.txt "")
    return()
  endif()
  set(from ${OUTPUT}/node_modules/uplot)
  file(COPY_FILE ${from}/dist/uPlot.iife.min.js ${OUTPUT}/plot.js)
  file(COPY_FILE ${from}/dist/uPlot.min.css ${OUTPUT}/plot.css)
  file(COPY_FILE ${from}/LICENSE ${OUTPUT}/licence.txt)
  return()
endif()

set(NIGHTBANK_PLOTS_DIR ${PROJECT_BINARY_DIR}/plots)
file(MAKE_DIRECTORY ${NIGHTBANK_PLOTS_DIR})
set(plots ${NIGHTBANK_PLOTS_DIR}/plot.js ${NIGHTBANK_PLOTS_DIR}/plot.css
          ${NIGHTBANK_PLOTS_DIR}/licence.txt)
if(NIGHTBANK_PLOTS)
  find_program(NIGHTBANK_NPM npm)
endif()
if(NIGHTBANK_PLOTS AND NIGHTBANK_NPM)
  set(wanted ${PROJECT_SOURCE_DIR}/tools/page)
  add_custom_command(
    OUTPUT ${plots}
    COMMAND ${CMAKE_COMMAND} -E copy ${wanted}/package.json ${wanted}/package-lock.json
            ${NIGHTBANK_PLOTS_DIR}
    COMMAND ${CMAKE_COMMAND} -DNPM=${NIGHTBANK_NPM} -DOUTPUT=${NIGHTBANK_PLOTS_DIR} -P
            ${CMAKE_CURRENT_LIST_FILE}
    DEPENDS ${wanted}/package.json ${wanted}/package-lock.json ${CMAKE_CURRENT_LIST_FILE}
    COMMENT "Fetching the plotting library of a page"
    VERBATIM)
  add_custom_target(nightbank_plots DEPENDS ${plots})
else()
  if(NIGHTBANK_PLOTS)
    message(STATUS "npm is not there: pages have drawings alone (-DNIGHTBANK_PLOTS=OFF to say so)")
  endif()
  foreach(plot ${plots})
    file(WRITE ${plot} "")
  endforeach()
endif()
