# Checks written apart from the product (tests/outside): Python, NetworkX, jsonschema.
# Included from tests/CMakeLists.txt. Each takes well below two minutes on two cores.

set(OUTSIDE ${CMAKE_SOURCE_DIR}/tests/outside)
# These start the program thousands of times: a build without sanitizers may be named for them.
set(STILL_OUTSIDE_BIN $<TARGET_FILE:stillset> CACHE STRING "Program that the outside checks run")

add_test(NAME outside_oracles
    COMMAND /usr/bin/python3 ${OUTSIDE}/test_oracles.py --plants 600 --seed 1)
add_test(NAME outside_networks
    COMMAND /usr/bin/python3 ${OUTSIDE}/test_networks.py ${STILL_OUTSIDE_BIN})
add_test(NAME outside_exhaustive
    COMMAND /usr/bin/python3 ${OUTSIDE}/test_exhaustive.py ${STILL_OUTSIDE_BIN}
            --plants 2000 --seed 1)
add_test(NAME outside_relief_states
    COMMAND /usr/bin/python3 ${OUTSIDE}/test_relief_states.py ${STILL_OUTSIDE_BIN}
            --plants 1500 --seed 1)
add_test(NAME outside_networkx
    COMMAND /usr/bin/python3 ${OUTSIDE}/test_networkx.py ${STILL_OUTSIDE_BIN}
            --plants 500 --seed 1)
add_test(NAME outside_relabel
    COMMAND /usr/bin/python3 ${OUTSIDE}/test_relabel.py ${STILL_OUTSIDE_BIN})
add_test(NAME outside_schema
    COMMAND /usr/bin/python3 ${OUTSIDE}/test_schema.py ${STILL_OUTSIDE_BIN})
file(GLOB demo_plants CONFIGURE_DEPENDS ${CMAKE_SOURCE_DIR}/plants-demo/*.xml)
add_test(NAME outside_demo_plants
    COMMAND /usr/bin/python3 ${OUTSIDE}/test_demo_plants.py ${STILL_OUTSIDE_BIN} ${demo_plants})
# Reads one plant and plans 20 times on it; by hand also with --components 500000.
set(STILL_PLAN_MANY $<TARGET_FILE:plan_many> CACHE STRING "Program that test_size.py runs")
add_test(NAME outside_size
    COMMAND /usr/bin/python3 ${OUTSIDE}/test_size.py ${STILL_PLAN_MANY} ${CMAKE_SOURCE_DIR}/tools/genplant
            --components 100000 --targets 60 --seed 1)
add_test(NAME outside_never_optimistic
    COMMAND /usr/bin/python3 ${OUTSIDE}/test_never_optimistic.py ${STILL_OUTSIDE_BIN} --plants 20 --seed 1)
add_test(NAME outside_plan_never_optimistic
    COMMAND /usr/bin/python3 ${OUTSIDE}/test_plan_never_optimistic.py ${STILL_OUTSIDE_BIN}
            ${CMAKE_SOURCE_DIR}/plants-demo/tutorial.xml MV-1 --plants 4 --seed 1)
# What stays behind when a plant is drained: liquid that runs in steps of time; vessels in slices.
add_test(NAME outside_pockets
    COMMAND /usr/bin/python3 ${OUTSIDE}/test_pockets.py ${STILL_OUTSIDE_BIN} --plants 2000 --start 1)
add_test(NAME outside_vessel_volumes
    COMMAND /usr/bin/python3 ${OUTSIDE}/test_vessel_volumes.py ${STILL_OUTSIDE_BIN} --vessels 60 --seed 1)
# A state file against the plant file with its words written in.
add_test(NAME outside_state
    COMMAND /usr/bin/python3 ${OUTSIDE}/test_state.py ${STILL_OUTSIDE_BIN} --plants 40 --start 1)
set_tests_properties(outside_pockets outside_vessel_volumes outside_state outside_plan_never_optimistic outside_never_optimistic outside_size outside_demo_plants outside_oracles outside_networks outside_exhaustive
    outside_relief_states outside_networkx outside_relabel outside_schema PROPERTIES
    LABELS outside
    ENVIRONMENT PYTHONDONTWRITEBYTECODE=1
    TIMEOUT 300)
# 60 plans on a plant of 100,000 components: a busy machine may take its time.
set_tests_properties(outside_size PROPERTIES TIMEOUT 900)
# Curves of closed-in liquid, recomputed from the published equations.
add_test(NAME outside_curve
    COMMAND /usr/bin/python3 ${OUTSIDE}/test_curve.py $<TARGET_FILE:stillset>
            ${CMAKE_SOURCE_DIR}/../shared/fluids --seed 1)
set_tests_properties(outside_curve PROPERTIES LABELS outside
    ENVIRONMENT PYTHONDONTWRITEBYTECODE=1 TIMEOUT 300 SKIP_RETURN_CODE 77)
# All grades. The first five need no program. Those behind outside_networkx_size are skipped while the program says that it
# does not plan a grade.
add_test(NAME outside_grade_oracle
    COMMAND /usr/bin/python3 ${OUTSIDE}/test_grade_oracle.py --plants 300 --start 1)
add_test(NAME outside_grade_comparison
    COMMAND /usr/bin/python3 ${OUTSIDE}/test_grade_comparison.py --plants 150 --start 1)
add_test(NAME outside_grade_coverage
    COMMAND /usr/bin/python3 ${OUTSIDE}/test_grades.py none --plants 2000 --start 1 --cover)
add_test(NAME outside_integer_program_small
    COMMAND /usr/bin/python3 ${OUTSIDE}/test_integer_program.py none --plants 200 --start 1)
add_test(NAME outside_metamorphic_oracle
    COMMAND /usr/bin/python3 ${OUTSIDE}/test_grades_metamorphic.py none --plants 150 --start 1)
add_test(NAME outside_networkx_size
    COMMAND /usr/bin/python3 ${OUTSIDE}/test_networkx_size.py ${STILL_OUTSIDE_BIN}
            ${CMAKE_SOURCE_DIR}/tools/genplant --components 10000 --targets 40 --seed 1)
add_test(NAME outside_grades_by_hand
    COMMAND /usr/bin/python3 ${OUTSIDE}/test_grades_by_hand.py ${STILL_OUTSIDE_BIN})
add_test(NAME outside_grades
    COMMAND /usr/bin/python3 ${OUTSIDE}/test_grades.py ${STILL_OUTSIDE_BIN} --plants 600 --start 1
            --also 19329,21280,22393,23043,25405,41178,57945,63531,65309,71654)
add_test(NAME outside_search_limit
    COMMAND /usr/bin/python3 ${OUTSIDE}/test_search_limit.py ${STILL_OUTSIDE_BIN} ${CMAKE_SOURCE_DIR}/plants-demo
            --plants 60 --start 1 --also 166,182,463,492,533,717,941)
add_test(NAME outside_verify_mutants
    COMMAND /usr/bin/python3 ${OUTSIDE}/test_verify_mutants.py ${STILL_OUTSIDE_BIN} --plants 300 --start 1)
add_test(NAME outside_on_the_way
    COMMAND /usr/bin/python3 ${OUTSIDE}/test_on_the_way.py ${STILL_OUTSIDE_BIN} ${CMAKE_SOURCE_DIR}/plants-demo)
add_test(NAME outside_replan
    COMMAND /usr/bin/python3 ${OUTSIDE}/test_replan.py ${STILL_OUTSIDE_BIN} ${CMAKE_SOURCE_DIR}/plants-demo)
add_test(NAME outside_shift
    COMMAND /usr/bin/python3 ${OUTSIDE}/test_shift.py ${STILL_OUTSIDE_BIN} ${CMAKE_SOURCE_DIR}/plants-demo)
# The order of steps against all orders, and every plan played step by step (docs/METHOD.md, 7).
add_test(NAME outside_order
    COMMAND /usr/bin/python3 ${OUTSIDE}/test_order.py ${STILL_OUTSIDE_BIN} --plants 1000 --first 1)
add_test(NAME outside_order_replay
    COMMAND /usr/bin/python3 ${OUTSIDE}/test_order_replay.py ${STILL_OUTSIDE_BIN} ${CMAKE_SOURCE_DIR}/plants-demo
            --plants 150 --first 1)
add_test(NAME outside_choices
    COMMAND /usr/bin/python3 ${OUTSIDE}/test_choices.py ${STILL_OUTSIDE_BIN} --plants 400 --start 1)
add_test(NAME outside_published
    COMMAND /usr/bin/python3 ${OUTSIDE}/test_published.py ${STILL_OUTSIDE_BIN} ${CMAKE_SOURCE_DIR}/plants-demo)
add_test(NAME outside_keep
    COMMAND /usr/bin/python3 ${OUTSIDE}/test_keep.py ${STILL_OUTSIDE_BIN} --plants 200 --start 1)
add_test(NAME outside_grades_metamorphic
    COMMAND /usr/bin/python3 ${OUTSIDE}/test_grades_metamorphic.py ${STILL_OUTSIDE_BIN}
            --plants 60 --start 1)
add_test(NAME outside_integer_program
    COMMAND /usr/bin/python3 ${OUTSIDE}/test_integer_program.py ${STILL_OUTSIDE_BIN}
            --plants 100 --start 1)
set_tests_properties(outside_grade_oracle outside_grade_comparison outside_grade_coverage outside_integer_program_small
    outside_keep outside_metamorphic_oracle outside_networkx_size outside_grades_by_hand outside_grades outside_search_limit
    outside_choices outside_order outside_order_replay outside_shift outside_on_the_way outside_replan outside_verify_mutants outside_published outside_grades_metamorphic outside_integer_program PROPERTIES
    LABELS outside
    ENVIRONMENT PYTHONDONTWRITEBYTECODE=1 TIMEOUT 300 SKIP_RETURN_CODE 77)
