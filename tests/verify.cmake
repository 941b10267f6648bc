still_unit(test_verify)
still_unit(test_verify_grades)
