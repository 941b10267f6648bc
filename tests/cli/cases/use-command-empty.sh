stillset '' tutorial.xml
