# The pack (docs/PACK.md) as other programs read it: qpdf, poppler, zbar, html-validate, axe-core, Chromium.
# tools/packages.sh installs them. Together about two minutes of one core.
foreach(check pdf codes html hostile)
    add_test(NAME outside_pack_${check}
        COMMAND /usr/bin/python3 ${CMAKE_SOURCE_DIR}/tests/outside/test_pack_${check}.py ${STILL_OUTSIDE_BIN})
    set_tests_properties(outside_pack_${check} PROPERTIES LABELS outside
        ENVIRONMENT PYTHONDONTWRITEBYTECODE=1 TIMEOUT 300 SKIP_RETURN_CODE 77)
endforeach()
