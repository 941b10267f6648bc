stillset check - <&-
