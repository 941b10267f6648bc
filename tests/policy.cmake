# Tests of the policy: its table and files, and what it asks of a job.
foreach(name test_policy test_demand)
    still_unit(${name} unit/plantkit.c unit/planttext.c unit/kit_ask.c)
endforeach()
still_fuzz(fuzz_policy) # the reader of policy files

if(XMLLINT)
    add_test(NAME policy_examples
        COMMAND /usr/bin/python3 ${CMAKE_SOURCE_DIR}/tests/readme_examples.py $<TARGET_FILE:stillset>
                ${CMAKE_SOURCE_DIR}/docs/POLICY.md
        WORKING_DIRECTORY ${CMAKE_SOURCE_DIR})
    add_test(NAME schema_policies COMMAND ${XMLLINT} --nonet --noout --relaxng docs/policy.rng
        plants-demo/site.policy tests/policies/company-sheet.xml
        WORKING_DIRECTORY ${CMAKE_SOURCE_DIR})
endif()
