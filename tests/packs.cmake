# The pack for people, its languages and units.
still_unit(test_messages)
still_unit(test_pack)
set_tests_properties(test_pack PROPERTIES TIMEOUT 300)
# No text of a plan lacks its words in a language that is built in.
add_test(NAME messages_are_complete
    COMMAND /usr/bin/python3 ${CMAKE_SOURCE_DIR}/tools/messages.py --check)
