stillset check bad.xml
