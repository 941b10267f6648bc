stillset check ready.xml
