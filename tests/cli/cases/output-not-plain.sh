# What is no plain file is written to, never replaced: a pipe here, a device as well. A link stays a link.
mkfifo pipe
(timeout 3 cat pipe >out.csv) &
timeout 3 stillset plan tutorial.xml --target MV-1 --grade single --format csv -o pipe
echo "exit $?"
[ -p pipe ] && echo "still a pipe"
[ -p pipe ] || rm -f pipe
wait
echo old >target.csv
ln -s target.csv link.csv
stillset plan tutorial.xml --target MV-1 --grade single --format csv -o link.csv
echo "exit $?"
[ -L link.csv ] && echo "still a link"
stillset plan tutorial.xml --target MV-1 --grade single --format csv >want.csv
cmp want.csv out.csv
cmp want.csv target.csv
