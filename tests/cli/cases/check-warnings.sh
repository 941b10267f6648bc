# Warnings leave the exit status 0.
stillset check tutorial.xml
