# Tests of base (quantities, pipe sizes), input and check.
foreach(name test_quantity test_pipesize test_input test_check)
    still_unit(${name})
endforeach()

still_fuzz(fuzz_input) # the reader

# The schema accepts and refuses what the comment of each file says ("schema: accepts").
find_program(XMLLINT xmllint)
if(XMLLINT)
    file(GLOB plants CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/tests/bad/*.xml
        ${CMAKE_SOURCE_DIR}/plants-demo/*.xml)
    foreach(plant IN LISTS plants)
        file(STRINGS ${plant} accepts REGEX "schema: accepts")
        file(STRINGS ${plant} refuses REGEX "schema: refuses")
        get_filename_component(name ${plant} NAME_WE)
        get_filename_component(folder ${plant} DIRECTORY)
        get_filename_component(folder ${folder} NAME)
        file(STRINGS ${plant} of_policy REGEX "urn:stillset:policy:1")
        file(STRINGS ${plant} of_state REGEX "<state ")
        set(schema plant)
        if(of_state)
            set(schema state)
        endif()
        if(of_policy)
            set(schema policy)
        endif()
        if(accepts OR refuses OR folder STREQUAL "plants-demo")
            add_test(NAME schema_${name} COMMAND ${XMLLINT} --nonet --noout --relaxng
                ${CMAKE_SOURCE_DIR}/docs/${schema}.rng ${plant})
            if(refuses)
                set_tests_properties(schema_${name} PROPERTIES WILL_FAIL TRUE)
            endif()
        endif()
    endforeach()
endif()
