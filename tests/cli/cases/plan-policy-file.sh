# A site's own policy; a bad one is an error, and nothing is written.
stillset plan tutorial.xml --target MV-1 --policy site.policy -o out.txt
echo "exit $?"
sed -n "/^Grade/,/^VERDICT/p" out.txt
printf '<policy/>' >bad.policy
stillset plan tutorial.xml --target MV-1 --policy bad.policy -o never.txt
echo "exit $?"
[ ! -e never.txt ]
