stillset plann tutorial.xml
