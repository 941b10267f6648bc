# Geometry, contrast and forms of the pictures; two renderers (tests/outside/test_renderers.py).
if(STILL_ASAN)
    still_unit(test_drawing ${CMAKE_SOURCE_DIR}/tests/leaks.c)
else()
    still_unit(test_drawing)
endif()
# Curves of closed-in parts, and their charts.
still_unit(test_curve)
set_tests_properties(test_drawing PROPERTIES TIMEOUT 600)
add_test(NAME drawing_renderers
    COMMAND /usr/bin/python3 ${CMAKE_SOURCE_DIR}/tests/outside/test_renderers.py
            $<TARGET_FILE:stillset>)
set_tests_properties(drawing_renderers PROPERTIES
    LABELS outside ENVIRONMENT PYTHONDONTWRITEBYTECODE=1 TIMEOUT 120 SKIP_RETURN_CODE 77)

find_program(BASH bash REQUIRED)
# The page of symbols (docs/SYMBOLS.md) and its check: it is what the program draws today.
add_executable(symbol_sheet ${CMAKE_SOURCE_DIR}/tests/tools/symbol_sheet.c)
target_include_directories(symbol_sheet PRIVATE ${module_includes} ${CMAKE_SOURCE_DIR}/include)
target_link_libraries(symbol_sheet PRIVATE still_flags stillset_lib)
foreach(page svg:docs/pictures/symbols.svg md:docs/SYMBOLS.md)
    string(REPLACE ":" ";" page ${page})
    list(GET page 0 form)
    list(GET page 1 file)
    add_test(NAME drawing_symbols_${form}
        COMMAND ${BASH} -c "cmp <('$<TARGET_FILE:symbol_sheet>' ${form}) '${CMAKE_SOURCE_DIR}/${file}'")
endforeach()
