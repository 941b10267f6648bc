# Tests of the command line (tests/cli): cases, and what is said of options, formats and codes.
find_program(BASH bash REQUIRED)
add_test(NAME cli
    COMMAND ${BASH} ${CMAKE_SOURCE_DIR}/tests/cli/run.sh $<TARGET_FILE:stillset>)
set_tests_properties(cli PROPERTIES TIMEOUT 300)
still_unit(test_near)
add_test(NAME cli_terminal
    COMMAND /usr/bin/python3 ${CMAKE_SOURCE_DIR}/tests/cli/terminal.py $<TARGET_FILE:stillset>
            ${CMAKE_SOURCE_DIR})
set_tests_properties(cli_terminal PROPERTIES TIMEOUT 600)
find_program(JQ jq)
if(JQ)
    add_test(NAME cli_consistency
        COMMAND ${BASH} ${CMAKE_SOURCE_DIR}/tests/cli/consistency.sh $<TARGET_FILE:stillset>)
    set_tests_properties(cli_consistency PROPERTIES TIMEOUT 120)
endif()
add_test(NAME tutorial
    COMMAND /usr/bin/python3 ${CMAKE_SOURCE_DIR}/tests/tutorial.py $<TARGET_FILE:stillset>
            ${CMAKE_SOURCE_DIR}/docs/tutorial.md)
