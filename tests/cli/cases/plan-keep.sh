# Equipment that stays in service (I8): the choice that leaves its supply, or no plan and the loss told; an end that it
# can do without is accepted by name; the second check refutes a plan that takes its supply.
plan() {
    rm -f plan.json
    echo "== $*"
    stillset plan keep.xml --grade single --format json "$@" -o plan.json
    echo "exit $?"
    [ ! -e plan.json ] || python3 -c 'import json
r = json.load(open("plan.json"))
print(r["feasible"], [p["id"] for p in r["points"] if p["counted"]], r["options"]["keep"])
if not r["feasible"]: print(r["obstacle"]["best_grade"], r["obstacle"]["text"])
for f in r["findings"]:
    if f["rule"] == "I8" and "kept" in f["text"]: print(f["id"], f["blocks"], f["accepted"], f["text"])'
}
plan --target STR-1
plan --target STR-1 --keep E-1
plan --target HV-1 --keep E-1
plan --target HV-1 --keep E-1 --accept I8:V-1
plan --target STR-1 --keep E-1,STR-1
plan --target E-1.tube --keep E-1
plan --target STR-1 --keep NO-1
plan --target STR-1
python3 -c 'import json
r = json.load(open("plan.json"))
r["options"]["keep"] = ["E-1"]
json.dump(r, open("plan.json", "w"))'
stillset verify keep.xml plan.json | grep I8
