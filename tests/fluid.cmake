# Equations of state and closed-in liquid: every row of the reference values, worked examples,
# properties; tables of coefficients against the published files, water against another program.
foreach(name test_reference test_equation test_closedin)
    still_unit(${name})
endforeach()
set_tests_properties(test_reference PROPERTIES SKIP_RETURN_CODE 77)
