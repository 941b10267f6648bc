still_unit(test_output)
still_unit(test_output_data)
still_unit(test_diagram)
