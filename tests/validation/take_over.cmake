# Copies the results of long runs, those that there are, from a build to the stored ones.
foreach(name commissioning comparing first_power_full ngspice_full sabotage)
  if(EXISTS ${FROM}/${name}.jsonl)
    file(COPY ${FROM}/${name}.jsonl DESTINATION ${TO})
  endif()
endforeach()
