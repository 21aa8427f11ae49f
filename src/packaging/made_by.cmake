# Before cpack packs anything: a build for development installs elsewhere than packages do, with other flags, and what
# it lacks of a package (changelog, packed manual pages) nobody would see.
if(NOT "$ENV{HP_PACKAGING}")
  message(FATAL_ERROR "Packages are made by src/packaging/build.sh OUT, in a build of their own.")
endif()
