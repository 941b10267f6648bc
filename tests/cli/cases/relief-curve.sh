# [L4] Pressure against temperature: ammonia by its equation, dry gas in proportion; the same in every locale.
stillset relief curve.xml --curve P-1 --ambient "-30 degC"
stillset relief curve.xml --curve P-6 --ambient "22.5 degC" --format csv
stillset relief curve.xml --curve P-6 --ambient "10 degC"
stillset relief curve.xml --curve P-1 -o c.csv
for locale in de_DE.UTF-8 tr_TR.UTF-8 ar_EG.UTF-8; do
    LC_ALL=$locale stillset relief curve.xml --curve=P-1 2>/dev/null | cmp - c.csv || echo "$locale differs"
done
wc -l <c.csv
