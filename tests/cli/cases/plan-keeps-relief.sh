# D4 comes before mass among plans equal in sources and points (I4): HV-A, not HV-B.
stillset plan keeps-relief.xml --target F-1 --grade single --format json -o p.json
grep -A 4 '^ "cost"' p.json
grep -E '^   "id": "HV-' p.json | head -1
! grep -q '"rule": "D4"' p.json
