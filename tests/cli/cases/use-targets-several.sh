# One boundary round all; named twice it is one.
stillset plan tutorial.xml --target MV-1,T-2 --grade single --format json -o a.json
stillset plan tutorial.xml --target MV-1 --target T-2 --target MV-1 --grade single --format json -o b.json
grep -A 3 '^ "target"' a.json
grep -A 4 '^ "cost"' a.json
diff <(grep -A 4 '^ "cost"' a.json) <(grep -A 4 '^ "cost"' b.json)
