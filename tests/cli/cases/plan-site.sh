# A site file and checklists: what the plan takes from them; what they do not say it asks for. Errors in them are those of a
# file, and nothing is written.
stillset plan tutorial.xml --target MV-1 --grade single --site harbour.site --format json -o plan.json
echo "exit $?"
jq -c '.site.id, .checklists, .options.ambient_degC, .tests.code' plan.json
jq -r '.steps[] | select(.do | test("hold time")) | .do' plan.json | grep -o 'for [^,]* (hold time of the site file)' | sort -u
stillset plan tutorial.xml --target MV-1 --grade single | grep -c 'none is published'
printf '<checklists xmlns="urn:stillset:checklists:1" id="own"/>' >own.checklists
stillset plan tutorial.xml --target MV-1 --grade single --checklists own.checklists | grep -e --checklists
printf '<site xmlns="urn:stillset:site:1" id="s" checklists="own.checklists"><hold-time value="15"/></site>' >bad.site
stillset plan tutorial.xml --target MV-1 --site bad.site -o never.txt
echo "exit $?"
sed 's/"15"/"15 min"/; s/own\./gone./' bad.site >gone.site
stillset plan tutorial.xml --target MV-1 --site gone.site -o never.txt
echo "exit $?"
stillset plan tutorial.xml --target MV-1 --site - --checklists - -o never.txt
echo "exit $?"
stillset plan tutorial.xml --target MV-1 --site= -o never.txt
echo "exit $?"
stillset check tutorial.xml --site harbour.site
echo "exit $?"
[ ! -e never.txt ]
