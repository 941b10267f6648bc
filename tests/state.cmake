# Tests of the state file: its reader, and what plan, relief and the second check make of it.
foreach(name test_state test_state_plan test_state_forms)
    still_unit(${name} unit/plantkit.c unit/planttext.c unit/kit_ask.c)
endforeach()
still_fuzz(fuzz_state) # the reader of state files

if(XMLLINT)
    add_test(NAME schema_state COMMAND ${XMLLINT} --nonet --noout --relaxng docs/state.rng
        plants-demo/today.state WORKING_DIRECTORY ${CMAKE_SOURCE_DIR})
    add_test(NAME state_examples
        COMMAND /usr/bin/python3 ${CMAKE_SOURCE_DIR}/tests/readme_examples.py $<TARGET_FILE:stillset>
                ${CMAKE_SOURCE_DIR}/docs/FORMAT.md
        WORKING_DIRECTORY ${CMAKE_SOURCE_DIR})
endif()
