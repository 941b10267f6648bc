# Plants at which the search for bleeds, or that for other choices, once went wrong: a case split at
# an extra point that could not go; a dead part that comes nearer by what others do; a space further
# out that was left out of the mass; choices dropped one after the other.
cost() { stillset plan "$@" --format text >out.txt; sed -n 's/^Cost  *//p;s/^  *\(enclosed mass.*\)/\1/p;/^OTHER CHOICES/,/^WHY/{/points,/p;}' out.txt; grep -c "given up" out.txt; }
cost search-kept.xml --target TG --grade double-bleed --keep VK
cost search-island.xml --target TG --grade double-bleed
cost search-island.xml --target TG --grade double-bleed --avoid dU0,dU1
cost choices-further.xml --target TG --grade double-bleed
cost choices-chain.xml --target TG --grade single
# Many parts of unknown mass beside a heavy one: more than the solver takes in grams.
{
    echo '<plant xmlns="urn:stillset:plant:1" id="long"><service id="W" substance="water" phase="liquid" density="1000 kg/m3"/>'
    echo '<fitting id="TG" kind="filter"><port id="a"/><port id="b"/></fitting>'
    last=TG.a
    for k in $(seq 700); do
        echo "<valve id=\"v$k\" kind=\"ball\" lockable=\"yes\"/><spool id=\"P$k\" from=\"$last\" to=\"v$k.in\" service=\"W\"/>"
        last=v$k.out
    done
    echo "<limit id=\"L\"/><spool id=\"PL\" from=\"$last\" to=\"L.in\" service=\"W\"/><valve id=\"w\" kind=\"ball\" lockable=\"yes\"/>"
    echo '<spool id="PW" from="TG.b" to="w.in" service="W" length="1 m" bore="50 mm"/><cap id="C"/>'
    echo '<spool id="PC" from="w.out" to="C.in" service="W" length="10695 m" bore="50 mm"/></plant>'
} >long.xml
cost long.xml --target TG --grade double
