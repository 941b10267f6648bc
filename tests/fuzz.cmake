# The planner on every plant of the corpus, and on each with bytes changed; with libFuzzer when STILL_FUZZ is set.
if(STILL_FUZZ)
    add_executable(fuzz_plan ${CMAKE_SOURCE_DIR}/tests/fuzz/fuzz_plan.c)
    target_compile_options(fuzz_plan PRIVATE -fsanitize=fuzzer)
    target_link_options(fuzz_plan PRIVATE -fsanitize=fuzzer)
else()
    add_executable(fuzz_plan ${CMAKE_SOURCE_DIR}/tests/fuzz/fuzz_plan.c
        ${CMAKE_SOURCE_DIR}/tests/fuzz/fuzz_replay.c)
    add_test(NAME fuzz_plan_replay COMMAND fuzz_plan -m 20
        ${CMAKE_SOURCE_DIR}/tests/bad ${CMAKE_SOURCE_DIR}/plants-demo)
endif()
target_include_directories(fuzz_plan PRIVATE ${module_includes} ${CMAKE_SOURCE_DIR}/include)
target_link_libraries(fuzz_plan PRIVATE still_flags stillset_lib)
