stillset check -v tutorial.xml
