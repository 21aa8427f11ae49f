# After a package is made: takes out the scripts that only call ldconfig, which CPack adds to every package
# with a library. A trigger does that (src/packaging/triggers), as Debian wants it.
foreach(package IN LISTS CPACK_PACKAGE_FILES)
  if(NOT package MATCHES "/libhubphase[0-9]+_[^/]*$")
    continue()
  endif()
  set(room ${package}.room)
  execute_process(COMMAND dpkg-deb -R ${package} ${room} COMMAND_ERROR_IS_FATAL ANY)
  file(REMOVE ${room}/DEBIAN/postinst ${room}/DEBIAN/postrm ${package})
  execute_process(COMMAND dpkg-deb --root-owner-group -Zgzip -b ${room} ${package} OUTPUT_QUIET COMMAND_ERROR_IS_FATAL ANY)
  file(REMOVE_RECURSE ${room})
endforeach()
