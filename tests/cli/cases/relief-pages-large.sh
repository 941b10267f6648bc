# [L5] One picture that leaves components out says so, on it and on standard error, and what to do.
{
    echo '<plant xmlns="urn:stillset:plant:1" id="large">'
    echo '<service id="L" substance="ammonia" phase="liquid" temperature="0 degC" pressure="4 barg" design-pressure="9 barg"/>'
    for ((i = 0; i < 520; i++)); do
        echo "<limit id=\"L-$i\"/><valve id=\"V-$i\" kind=\"globe\" position=\"open\" bore=\"DN25\"/><cap id=\"C-$i\"/>"
        echo "<spool id=\"A-$i\" from=\"L-$i.in\" to=\"V-$i.in\" length=\"1 m\" bore=\"DN25\" service=\"L\"/>"
        echo "<spool id=\"B-$i\" from=\"V-$i.out\" to=\"C-$i.in\" length=\"1 m\" bore=\"DN25\" service=\"L\"/>"
    done
    echo '</plant>'
} >large.xml
stillset relief large.xml --format svg -o large.svg 2>&1 | grep note:
grep -o 'PAGE FULL: [0-9]* COMPONENTS ARE NOT DRAWN' large.svg | head -n 1
# Beyond 250,000 components there are no pages: refused, nothing is written.
{
    echo '<plant xmlns="urn:stillset:plant:1" id="huge">'
    seq -f '<cap id="C-%.0f"/>' 250001
    echo '</plant>'
} >huge.xml
stillset relief huge.xml --format pdf -o huge.pdf 2>&1 | grep error:
echo "exit ${PIPESTATUS[0]}"
stillset relief huge.xml --format svg --page 1 -o huge.svg 2>&1 | grep error:
echo "exit ${PIPESTATUS[0]}"
ls huge.pdf huge.svg 2>/dev/null
true
