# Turns files into C arrays named after them (page.css: hp_page_css), with the hashes by which the page's
# Content-Security-Policy lets them run: base64 of SHA-256 (W3C, Content Security Policy Level 3,
# hash-source).
#
#   cmake -DOUT=embedded.c -P embed.cmake FILE...

set(digits ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/)

# Base64 (RFC 4648) of bytes given as hexadecimal digits.
function(base64 hex out)
  set(text "")
  string(LENGTH "${hex}" length)
  set(at 0)
  while(at LESS length)
    string(SUBSTRING "${hex}" ${at} 6 group)
    string(LENGTH "${group}" have)
    string(SUBSTRING "${group}0000" 0 6 group)
    math(EXPR characters "${have} / 2 + 1")
    foreach(k RANGE 3)
      if(k LESS characters)
        math(EXPR index "(0x${group} >> (18 - 6 * ${k})) & 63")
        string(SUBSTRING "${digits}" ${index} 1 digit)
      else()
        set(digit "=")
      endif()
      string(APPEND text "${digit}")
    endforeach()
    math(EXPR at "${at} + 6")
  endwhile()
  set(${out} "${text}" PARENT_SCOPE)
endfunction()

set(source "/* Made by src/report/embed.cmake. */\n#include \"report/embedded.h\"\n")
set(at 0)
# The files stand behind "-P embed.cmake".
while(at LESS CMAKE_ARGC AND NOT "${CMAKE_ARGV${at}}" STREQUAL "-P")
  math(EXPR at "${at} + 1")
endwhile()
math(EXPR at "${at} + 2")
while(at LESS CMAKE_ARGC)
  set(file "${CMAKE_ARGV${at}}")
  math(EXPR at "${at} + 1")
  get_filename_component(name "${file}" NAME)
  string(REPLACE "." "_" name "hp_${name}")
  file(SHA256 "${file}" digest)
  base64("${digest}" hash)
  file(READ "${file}" bytes HEX)
  string(REGEX REPLACE "(................................)" "\\1\n" bytes "${bytes}")
  string(REGEX REPLACE "([0-9a-f][0-9a-f])" "0x\\1," bytes "${bytes}")
  string(APPEND source "\nconst char ${name}_hash[] = \"sha256-${hash}\";\n"
         "const unsigned char ${name}[] = {\n${bytes}0};\n")
endwhile()
file(WRITE "${OUT}" "${source}")
