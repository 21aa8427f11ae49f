# Ctrl-C ends the work soon, says so, and leaves nothing behind. Job control, because a shell has its
# background commands ignore Ctrl-C otherwise, and the program heeds that.
write_scenario
set -m
hubphase survey small.yaml --starts 1000 -o report.txt --plots pictures 2>errors &
exec 2>/dev/null
sleep 1
kill -INT $!
wait $!
echo "status $?"
cat errors
rm errors
list_files
