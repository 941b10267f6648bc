add_test(NAME readme_examples
    COMMAND /usr/bin/python3 ${CMAKE_SOURCE_DIR}/tests/readme_examples.py $<TARGET_FILE:stillset>
            ${CMAKE_SOURCE_DIR}/README.md
    WORKING_DIRECTORY ${CMAKE_SOURCE_DIR})
add_test(NAME cold_store_examples
    COMMAND /usr/bin/python3 ${CMAKE_SOURCE_DIR}/tests/readme_examples.py $<TARGET_FILE:stillset>
            ${CMAKE_SOURCE_DIR}/docs/cold-store.md
    WORKING_DIRECTORY ${CMAKE_SOURCE_DIR})
add_test(NAME grades_examples
    COMMAND /usr/bin/python3 ${CMAKE_SOURCE_DIR}/tests/readme_examples.py $<TARGET_FILE:stillset>
            ${CMAKE_SOURCE_DIR}/docs/grades.md
    WORKING_DIRECTORY ${CMAKE_SOURCE_DIR})
