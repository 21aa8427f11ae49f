# Each wrong command line: what was wrong, which value, what was expected; status 2.
run
run --unknown
run --H
run suvey file.yaml
run survey
run survey one.yaml two.yaml
run survey file.yaml --unknown
run survey file.yaml --HANG=2
run survey file.yaml --program-name=$'other\e[31m'
run survey file.yaml --throttle
run survey file.yaml --throttle 12,5
run survey file.yaml --throttle ""
run survey file.yaml --throttle nan
run survey file.yaml --throttle 0x10
run survey file.yaml --throttle 40%
run survey file.yaml --throttle -1
run survey file.yaml --throttle 100.1
run survey file.yaml --starts 0
run survey file.yaml --starts 6.5
run survey file.yaml --starts 99999999999999999999
run survey file.yaml --jobs many
run survey file.yaml --format gif
run survey file.yaml --plots ""
run survey file.yaml --json --csv
run spin file.yaml
run spin file.yaml --wiring 1 --seconds 0
run spin file.yaml --wiring 1 --seconds 1e9
run spin file.yaml --wiring 1 --from-angle north
run spin file.yaml --wiring 1 --window 0.5
run spin file.yaml --wiring 1 --window 0.5:
run spin file.yaml --wiring 1 --window 0.5:0.4
run spin file.yaml --wiring 1 --starts 3
run spin file.yaml --wiring 1 --csv -
run explain file.yaml
run explain --wiring 1
run survey --csv figures.csv small.yaml
