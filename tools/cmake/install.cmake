# What is installed, and the Debian package of it. Two components: `runtime` (the program, its manual,
# completions, scenarios) and `development` (library, headers, find_package). CPack packs the first.
include(GNUInstallDirs)
include(CMakePackageConfigHelpers)

install(TARGETS nightbank_program RUNTIME COMPONENT runtime)
install(DIRECTORY scenarios/ DESTINATION ${CMAKE_INSTALL_DATADIR}/nightbank/scenarios COMPONENT runtime)

# Completions, schemas and manual come from the program's own words.
set(words ${PROJECT_BINARY_DIR}/words)
find_program(NIGHTBANK_HELP2MAN help2man)
list(TRANSFORM NIGHTBANK_JSON_COMMANDS REPLACE "(.+)" "${words}/\\1.schema.json" OUTPUT_VARIABLE schemas)
add_custom_command(
  OUTPUT ${words}/nightbank.bash ${words}/_nightbank ${words}/nightbank.fish ${schemas}
  COMMAND ${CMAKE_COMMAND} -DPROGRAM=$<TARGET_FILE:nightbank_program> -DOUTPUT=${words}
          "-DSCHEMAS=${NIGHTBANK_JSON_COMMANDS}" -P ${PROJECT_SOURCE_DIR}/tools/cmake/words.cmake
  DEPENDS nightbank_program ${PROJECT_SOURCE_DIR}/tools/cmake/words.cmake
  VERBATIM)
set(made ${words}/nightbank.bash)
install(FILES ${words}/nightbank.bash DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions
        RENAME nightbank COMPONENT runtime)
install(FILES ${words}/_nightbank DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/vendor-completions
        COMPONENT runtime)
install(FILES ${schemas} DESTINATION ${CMAKE_INSTALL_DATADIR}/nightbank/schema COMPONENT runtime)
install(FILES ${words}/nightbank.fish
        DESTINATION ${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d COMPONENT runtime)
if(NIGHTBANK_HELP2MAN)
  add_custom_command(
    OUTPUT ${words}/nightbank.1.gz
    COMMAND ${CMAKE_COMMAND} -DPROGRAM=$<TARGET_FILE:nightbank_program> -DOUTPUT=${words}
            -DHELP2MAN=${NIGHTBANK_HELP2MAN} -P ${PROJECT_SOURCE_DIR}/tools/cmake/manual.cmake
    DEPENDS nightbank_program ${PROJECT_SOURCE_DIR}/tools/cmake/manual.cmake
    VERBATIM)
  list(APPEND made ${words}/nightbank.1.gz)
  install(FILES ${words}/nightbank.1.gz DESTINATION ${CMAKE_INSTALL_MANDIR}/man1 COMPONENT runtime)
else()
  message(STATUS "help2man is not there: no manual page")
endif()
add_custom_target(nightbank_words ALL DEPENDS ${made})

install(TARGETS nightbank EXPORT nightbank ARCHIVE COMPONENT development)
install(DIRECTORY include/nightbank DESTINATION ${CMAKE_INSTALL_INCLUDEDIR} COMPONENT development)
set(config ${CMAKE_INSTALL_LIBDIR}/cmake/nightbank)
install(EXPORT nightbank NAMESPACE nightbank:: FILE nightbankTargets.cmake DESTINATION ${config}
        COMPONENT development)
file(WRITE ${PROJECT_BINARY_DIR}/nightbankConfig.cmake
     "include(CMakeFindDependencyMacro)
find_dependency(yaml-cpp)
find_dependency(fmt)
find_dependency(nlohmann_json)
find_dependency(Threads)
include(\${CMAKE_CURRENT_LIST_DIR}/nightbankTargets.cmake)
")
write_basic_package_version_file(${PROJECT_BINARY_DIR}/nightbankConfigVersion.cmake
                                 COMPATIBILITY SameMinorVersion)
install(FILES ${PROJECT_BINARY_DIR}/nightbankConfig.cmake
              ${PROJECT_BINARY_DIR}/nightbankConfigVersion.cmake
        DESTINATION ${config} COMPONENT development)

set(CPACK_GENERATOR DEB)
set(CPACK_PACKAGE_NAME nightbank)
set(CPACK_PACKAGE_CONTACT "the nightbank developers <nightbank@localhost>")
set(CPACK_COMPONENTS_ALL runtime)
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_STRIP_FILES ON)
set(CPACK_PACKAGING_INSTALL_PREFIX /usr)
set(CPACK_DEBIAN_RUNTIME_PACKAGE_NAME nightbank)
set(CPACK_DEBIAN_RUNTIME_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION science)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)  # dpkg-shlibdeps, of dpkg-dev
set(CPACK_DEBIAN_PACKAGE_DESCRIPTION "${PROJECT_DESCRIPTION}")
include(CPack)
