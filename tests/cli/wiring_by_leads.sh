# A wiring by its leads is the one with that number; what is no wiring is told.
write_scenario
hubphase explain small.yaml --starts 1 --wiring "green yellow blue / yellow blue green" | head -1
hubphase explain small.yaml --starts 1 --wiring "V,U,W/U,W,V" | head -1
run spin small.yaml --wiring 0
run spin small.yaml --wiring 37
run spin small.yaml --wiring ""
run spin small.yaml --wiring "green yellow blue"
run explain small.yaml --wiring "green yellow yellow / yellow blue green"
run explain small.yaml --wiring "green yellow pink / yellow blue green"
