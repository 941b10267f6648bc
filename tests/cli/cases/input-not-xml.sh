echo "tag,id" >table.csv
stillset check table.csv
