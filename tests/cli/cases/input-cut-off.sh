head -c 3000 tutorial.xml >cut.xml
stillset plan cut.xml --target MV-1 --grade single
