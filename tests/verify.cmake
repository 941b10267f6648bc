still_unit(test_verify)
