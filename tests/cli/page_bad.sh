# The page: wrong command lines; nothing is left behind.
write_scenario
run page
run page small.yaml
run page --log one.yaml -o page.html
run page small.yaml one.yaml two.yaml -o page.html
run page small.yaml one.yaml --log two.yaml -o page.html
list_files
