# Why each point was taken, and with --explain why the devices near by were not (I1, D2).
stillset plan tutorial.xml --target MV-1 --grade single | grep -c "WHY NO OTHERS"
stillset plan tutorial.xml --target MV-1 --grade single --explain | sed -n '/^WHY THESE/,/^CAUTIONS/p'
