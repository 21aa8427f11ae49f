# Joins scripts into one function, in the order in which they are named; what a module exports is simply there.
# Style sheets are joined as they are.
#
#   cmake -DOUT=tool.js -P join.cmake FILE...

set(head "(function () {\n'use strict';\n")
set(foot "}());\n")
if(OUT MATCHES "[.]css$")
  set(head "")
  set(foot "")
endif()
file(WRITE "${OUT}" "${head}")
set(at 0)
while(at LESS CMAKE_ARGC AND NOT "${CMAKE_ARGV${at}}" STREQUAL "-P")
  math(EXPR at "${at} + 1")
endwhile()
math(EXPR at "${at} + 2")
while(at LESS CMAKE_ARGC)
  file(READ "${CMAKE_ARGV${at}}" text)
  string(REGEX REPLACE "\n(export )" "\n" text "${text}")
  file(APPEND "${OUT}" "${text}")
  math(EXPR at "${at} + 1")
endwhile()
file(APPEND "${OUT}" "${foot}")
