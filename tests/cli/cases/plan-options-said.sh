# The plan ends with the options that give it again.
stillset plan ready.xml --target ST-1 --grade single | grep "^      options "
stillset plan ready.xml --target ST-1 --grade single --work open | grep "^      options "
