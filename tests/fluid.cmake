# Equations of state and closed-in liquid: every row of the reference values, worked examples,
# properties; tables of coefficients against the published files, water against another program.
foreach(name test_reference test_equation test_closedin test_reliefsize)
    still_unit(${name})
endforeach()
set_tests_properties(test_reference PROPERTIES SKIP_RETURN_CODE 77)

add_executable(fluid_dump ${CMAKE_SOURCE_DIR}/tests/tools/fluid_dump.c)
target_include_directories(fluid_dump PRIVATE ${module_includes} ${CMAKE_SOURCE_DIR}/include)
target_link_libraries(fluid_dump PRIVATE still_flags stillset_lib)
add_test(NAME outside_fluids
    COMMAND /usr/bin/python3 ${CMAKE_SOURCE_DIR}/tests/outside/test_fluids.py
            $<TARGET_FILE:fluid_dump> ${CMAKE_SOURCE_DIR}/../shared/fluids)
set_tests_properties(outside_fluids PROPERTIES LABELS outside ENVIRONMENT PYTHONDONTWRITEBYTECODE=1
    TIMEOUT 120 SKIP_RETURN_CODE 77)
