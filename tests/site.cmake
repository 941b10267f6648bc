# Tests of the site file and the checklists of the work: their readers, and what a plan makes of them.
foreach(name test_site test_rules_work test_rules_practice)
    still_unit(${name} unit/plantkit.c unit/planttext.c unit/kit_ask.c)
endforeach()
still_fuzz(fuzz_site) # the readers of site files and checklists

if(XMLLINT)
    add_test(NAME schema_site COMMAND ${XMLLINT} --nonet --noout --relaxng docs/site.rng
        plants-demo/harbour.site tests/sites/with-lists.site WORKING_DIRECTORY ${CMAKE_SOURCE_DIR})
    add_test(NAME schema_checklists COMMAND ${XMLLINT} --nonet --noout --relaxng docs/checklists.rng
        src/procedure/checklists.xml tests/sites/work.checklists WORKING_DIRECTORY ${CMAKE_SOURCE_DIR})
endif()
