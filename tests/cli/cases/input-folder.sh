mkdir folder
stillset check folder
