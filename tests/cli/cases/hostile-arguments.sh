# What the call itself brings along does not steer the terminal where it is put out as a message on the plant.
stillset plan ready.xml --target "$(printf "\033[31mX")" --grade single
echo "exit $?" >&2
stillset plan ready.xml --target ST-1 --grade single --accept "$(printf "\033[31mX")"
echo "exit $?" >&2
stillset plan ready.xml --target "%s%n%s" --grade single
echo "exit $?" >&2
exit 0
