# The library as WebAssembly, where its tools are: hubphase.wasm and hubphase.wasm.gz in the build folder's
# `web`. Sets HP_WASM to the first, or leaves it empty and says what is missing.
set(HP_WEB AUTO CACHE STRING "The library as WebAssembly: ON, OFF, or AUTO (where the tools and the sources are)")
set(HP_WEB_LIBRARIES ${PROJECT_BINARY_DIR}/web/sources CACHE PATH
    "Sources of SUNDIALS, libfyaml and jansson, got by src/web/wasm/sources.sh")
set(HP_WASM "")
if(NOT HP_WEB OR HP_SANITIZE)
  return()
endif()

find_program(HP_CLANG NAMES clang)
find_program(HP_WASM_LD NAMES wasm-ld)
find_path(HP_WASI_INCLUDE NAMES wasi/api.h PATHS /usr/include/wasm32-wasi NO_DEFAULT_PATH)
find_path(HP_WASI_LIB NAMES crt1-reactor.o PATHS /usr/lib/wasm32-wasi NO_DEFAULT_PATH)
set(missing "")
foreach(tool HP_CLANG HP_WASM_LD HP_WASI_INCLUDE HP_WASI_LIB)
  if(NOT ${tool})
    string(APPEND missing " ${tool}")
  endif()
endforeach()
if(HP_CLANG)
  execute_process(COMMAND ${HP_CLANG} --target=wasm32-wasi -print-libgcc-file-name
                  OUTPUT_VARIABLE builtins OUTPUT_STRIP_TRAILING_WHITESPACE ERROR_QUIET)
  if(NOT EXISTS "${builtins}")
    string(APPEND missing " ${builtins}")
  endif()
endif()
if(NOT missing)
  execute_process(COMMAND bash ${PROJECT_SOURCE_DIR}/src/web/wasm/sources.sh ${HP_WEB_LIBRARIES}
                  RESULT_VARIABLE failed)
  if(failed)
    set(missing " sources of SUNDIALS, libfyaml and jansson")
  endif()
endif()
if(missing)
  if(HP_WEB STREQUAL ON)
    message(FATAL_ERROR "The library as WebAssembly wants:${missing} (packages: web_packages in tests/packages.sh)")
  endif()
  message(STATUS "Without the library as WebAssembly: missing${missing}")
  return()
endif()

include(ExternalProject)
set(HP_WASM ${PROJECT_BINARY_DIR}/web/hubphase.wasm)
ExternalProject_Add(hubphase_wasm
  SOURCE_DIR ${PROJECT_SOURCE_DIR}/src/web/wasm
  BINARY_DIR ${PROJECT_BINARY_DIR}/web
  PREFIX ${PROJECT_BINARY_DIR}/web/project
  CMAKE_ARGS -DCMAKE_C_COMPILER=${HP_CLANG} -DCMAKE_C_COMPILER_LAUNCHER=${CMAKE_C_COMPILER_LAUNCHER}
             -DHP_LIBRARIES=${HP_WEB_LIBRARIES} -DHP_EMBEDDED=${PROJECT_BINARY_DIR}/embedded.c
             -DHP_WASI_INCLUDE=${HP_WASI_INCLUDE} -DHP_WASI_LIB=${HP_WASI_LIB}
  BUILD_ALWAYS TRUE
  INSTALL_COMMAND ""
  BUILD_BYPRODUCTS ${HP_WASM} ${HP_WASM}.gz
  DEPENDS hp_embedded)
