# Import of drawings: memory, hostile input; the open reference drawing, where it is there, and
# variants of it.
still_unit(test_import)
add_test(NAME outside_dexpi
    COMMAND /usr/bin/python3 ${CMAKE_SOURCE_DIR}/tests/outside/test_dexpi.py ${STILL_OUTSIDE_BIN}
            --variants 1000 --seed 1)
set_tests_properties(outside_dexpi PROPERTIES LABELS outside ENVIRONMENT PYTHONDONTWRITEBYTECODE=1
    TIMEOUT 600 SKIP_RETURN_CODE 77)
