still_unit(test_output)
still_unit(test_diagram)
