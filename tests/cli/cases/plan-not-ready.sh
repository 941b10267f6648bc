# A finding blocks: exit status 1, and the record is there all the same.
stillset plan tutorial.xml --target MV-1 --grade single
