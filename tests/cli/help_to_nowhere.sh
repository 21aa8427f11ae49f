# A full disk or a reader that went away must not pass for success.
hubphase --help >/dev/full
echo "status $?"
mkfifo pipe
sleep 2 <pipe &
exec 3>pipe
kill $!
wait $! 2>/dev/null
hubphase --help >&3
echo "status $?"
