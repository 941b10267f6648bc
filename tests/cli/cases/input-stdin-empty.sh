stillset check -
