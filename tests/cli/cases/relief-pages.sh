# A plant that has no room on A3: pages of the PDF, one by one in any form.
stillset relief tutorial.xml --format pdf -o all.pdf
echo "exit $?"
head -c 5 all.pdf; echo
stillset relief tutorial.xml --format svg --page 1 | sed -n 's/.*<title id="t">//p'
stillset relief tutorial.xml --format svg --page 2 | grep -o 'page [0-9]*<\|>Page 2 of 7'
stillset relief tutorial.xml --format png --page 7 | head -c 4 | tail -c 3; echo
stillset relief tutorial.xml --format svg --page 8
echo "exit $?"
stillset relief tutorial.xml --format svg --page 0
echo "exit $?"
stillset relief tutorial.xml --format svg --page 2 --around S-4
echo "exit $?"
stillset relief tutorial.xml --page 2
echo "exit $?"
