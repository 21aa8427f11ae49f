# What is installed, in four components, and Debian packages of them (cpack): see src/packaging/README.md.
set(HP_DOC ${CMAKE_INSTALL_DATADIR}/doc)

install(TARGETS hubphase RUNTIME COMPONENT program)
install(TARGETS hubphase_lib ARCHIVE COMPONENT development)
install(TARGETS hubphase_shared EXPORT hubphase
        LIBRARY COMPONENT library NAMELINK_COMPONENT development
        INCLUDES DESTINATION ${CMAKE_INSTALL_INCLUDEDIR})
install(FILES include/hubphase.h DESTINATION ${CMAKE_INSTALL_INCLUDEDIR} COMPONENT development)
install(DIRECTORY include/hubphase DESTINATION ${CMAKE_INSTALL_INCLUDEDIR} COMPONENT development)
install(FILES ${CMAKE_CURRENT_BINARY_DIR}/hubphase.pc DESTINATION ${HP_PKGCONFIG_DIR} COMPONENT development)
install(EXPORT hubphase NAMESPACE hubphase:: FILE hubphaseConfig.cmake
        DESTINATION ${CMAKE_INSTALL_LIBDIR}/cmake/hubphase COMPONENT development)
write_basic_package_version_file(hubphaseConfigVersion.cmake COMPATIBILITY SameMinorVersion)
install(FILES ${CMAKE_CURRENT_BINARY_DIR}/hubphaseConfigVersion.cmake
        DESTINATION ${CMAKE_INSTALL_LIBDIR}/cmake/hubphase COMPONENT development)
install(FILES docs/json.md docs/scenario.md docs/benchlog.md docs/page.md DESTINATION ${CMAKE_INSTALL_DOCDIR}
        COMPONENT program)
install(FILES src/packaging/copyright DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT program)
install(DIRECTORY scenarios DESTINATION ${CMAKE_INSTALL_DOCDIR} COMPONENT program FILES_MATCHING PATTERN *.yaml)
install(FILES docs/hubphase.bash-completion RENAME hubphase COMPONENT program
        DESTINATION ${CMAKE_INSTALL_DATADIR}/bash-completion/completions)

# Manual pages of the commands and completions for other shells are asked of the program itself, once it
# is there: so at the installation. A program for another machine cannot be asked.
set(HP_GENERATED ${CMAKE_CURRENT_BINARY_DIR}/generated)
# Where zsh looks: Debian's packages have a folder of their own, /usr/local has not.
if(CMAKE_INSTALL_PREFIX STREQUAL "/usr")
  set(HP_ZSH_FOLDER vendor-completions)
else()
  set(HP_ZSH_FOLDER site-functions)
endif()
find_program(HP_BASH NAMES bash)
find_program(HP_GZIP NAMES gzip)
install(FILES docs/hubphase.1 DESTINATION ${CMAKE_INSTALL_MANDIR}/man1 COMPONENT program)
if(HP_BASH AND NOT CMAKE_CROSSCOMPILING)
  install(CODE "execute_process(COMMAND ${HP_BASH} \"${PROJECT_SOURCE_DIR}/src/packaging/generate.sh\"
                  \"$<TARGET_FILE:hubphase>\" \"${PROJECT_SOURCE_DIR}\" \"${HP_GENERATED}\" COMMAND_ERROR_IS_FATAL ANY)"
          COMPONENT program)
  install(DIRECTORY ${HP_GENERATED}/ DESTINATION ${CMAKE_INSTALL_MANDIR}/man1 COMPONENT program
          FILES_MATCHING PATTERN *.1)
  install(FILES ${HP_GENERATED}/_hubphase DESTINATION ${CMAKE_INSTALL_DATADIR}/zsh/${HP_ZSH_FOLDER} COMPONENT program)
  install(FILES ${HP_GENERATED}/hubphase.fish DESTINATION ${CMAKE_INSTALL_DATADIR}/fish/vendor_completions.d
          COMPONENT program)
endif()
set(HP_COMPONENTS program library development)
if(HP_WASM AND NOT CMAKE_CROSSCOMPILING)
  list(APPEND HP_COMPONENTS page)
  install(CODE "execute_process(COMMAND \"$<TARGET_FILE:hubphase>\" page --quiet -o \"${PROJECT_BINARY_DIR}/hubphase.html\"
                  COMMAND_ERROR_IS_FATAL ANY)" COMPONENT page)
  install(FILES ${PROJECT_BINARY_DIR}/hubphase.html DESTINATION ${CMAKE_INSTALL_DATADIR}/hubphase COMPONENT page)
endif()

# ---- packages --------------------------------------------------------------------------------------

set(CPACK_GENERATOR DEB)
set(CPACK_PROJECT_CONFIG_FILE ${CMAKE_CURRENT_LIST_DIR}/made_by.cmake)
set(CPACK_PACKAGE_NAME hubphase)
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "") # each package has its own
set(CPACK_PACKAGE_VERSION ${PROJECT_VERSION})
set(CPACK_PACKAGE_CONTACT "hubphase maintainers <maintainers@hubphase.invalid>")
set(CPACK_PACKAGE_DIRECTORY ${PROJECT_BINARY_DIR}/packages)
set(CPACK_PACKAGING_INSTALL_PREFIX ${CMAKE_INSTALL_PREFIX})
set(CPACK_STRIP_FILES ON)
set(CPACK_COMPONENTS_ALL ${HP_COMPONENTS})
set(CPACK_DEB_COMPONENT_INSTALL ON)
set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PACKAGE_GENERATE_SHLIBS ON)
set(CPACK_DEBIAN_PACKAGE_GENERATE_SHLIBS_POLICY "=") # while the first number is 0, see result.h
set(CPACK_DEBIAN_PACKAGE_CONTROL_STRICT_PERMISSION ON)

# hp_package COMPONENT NAME SECTION "first line" "more": texts as `apt show` has them.
macro(hp_package component name section summary more)
  string(TOUPPER ${component} upper)
  set(CPACK_DEBIAN_${upper}_PACKAGE_NAME ${name})
  set(CPACK_DEBIAN_${upper}_PACKAGE_SECTION ${section})
  set(CPACK_DEBIAN_${upper}_DESCRIPTION "${summary}\n${more}")
  # Each package brings changelog and copyright, as Debian wants it; and what is in it is as old as that says.
  install(CODE "
    set(doc \"\$ENV{DESTDIR}\${CMAKE_INSTALL_PREFIX}/${HP_DOC}/${name}\")
    if(\"\$ENV{HP_PACKAGING}\")
      file(MAKE_DIRECTORY \"\${doc}\")
      execute_process(COMMAND ${HP_GZIP} -9nc INPUT_FILE \"${PROJECT_SOURCE_DIR}/src/packaging/changelog\"
                      OUTPUT_FILE \"\${doc}/changelog.gz\" COMMAND_ERROR_IS_FATAL ANY)
      configure_file(\"${PROJECT_SOURCE_DIR}/src/packaging/copyright\" \"\${doc}/copyright\" COPYONLY)
      file(CHMOD \"\${doc}/changelog.gz\" \"\${doc}/copyright\" PERMISSIONS OWNER_READ OWNER_WRITE GROUP_READ WORLD_READ)
      file(GLOB manuals \"\$ENV{DESTDIR}\${CMAKE_INSTALL_PREFIX}/${CMAKE_INSTALL_MANDIR}/man1/*.1\")
      if(manuals)
        execute_process(COMMAND ${HP_GZIP} -9nf \${manuals} COMMAND_ERROR_IS_FATAL ANY)
      endif()
    endif()" COMPONENT ${component})
endmacro()
hp_package(program hubphase electronics "find the wiring of a salvaged hub motor and its controller"
  "Simulates all 36 ways to join a brushless hub motor to a controller, tells\nwhich run smoothly forward, advises what to measure or try next at the bench,\nchecks the finished machine and writes its wiring sheet.")
hp_package(library libhubphase${PROJECT_VERSION_MAJOR} libs "simulation of hub motor wirings - shared library"
  "Simulates and judges the 36 ways to join a brushless hub motor to a controller,\nand works out what to measure or try next. This package holds the library.")
hp_package(development libhubphase-dev libdevel "simulation of hub motor wirings - development files"
  "Simulates and judges the 36 ways to join a brushless hub motor to a controller,\nand works out what to measure or try next. This package holds headers, archive\nand what tells compilers where they are.")
hp_package(page hubphase-page electronics "find the wiring of a hub motor - page for a browser"
  "The whole of hubphase in one file of HTML that runs in a browser with no\nnetwork, for a phone in the shed: /usr/share/hubphase/hubphase.html.")
# What it calls by name and no linker sees: PLplot's driver and its letters.
set(CPACK_DEBIAN_PROGRAM_PACKAGE_DEPENDS "plplot-driver-cairo, fonts-dejavu-core")
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_DEPENDS "libhubphase${PROJECT_VERSION_MAJOR} (= ${PROJECT_VERSION})")
set(CPACK_DEBIAN_DEVELOPMENT_PACKAGE_RECOMMENDS
    "libsundials-dev, libplplot-dev, libcairo2-dev, libfyaml-dev, libjansson-dev") # for the archive
# The linker's cache is told of the library by a trigger.
set(CPACK_POST_BUILD_SCRIPTS ${CMAKE_CURRENT_LIST_DIR}/repack.cmake)
set(CPACK_DEBIAN_LIBRARY_PACKAGE_CONTROL_EXTRA ${CMAKE_CURRENT_LIST_DIR}/triggers)
set(CPACK_DEBIAN_PAGE_PACKAGE_ARCHITECTURE all)
set(CPACK_DEBIAN_PAGE_PACKAGE_SHLIBDEPS OFF)
include(CPack)
