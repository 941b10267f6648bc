# Tests of the rules of the trade, one row a sentence; and of graph, relief, drain and fluid against
# answers worked out apart from them.
set(kit unit/plantkit.c unit/planttext.c unit/kit_ask.c)
foreach(name test_rules_boundary test_rules_spaces test_rules_emptying test_rules_steps
        test_graph test_ordering test_relief test_coverage test_fluid test_drain test_shape test_letdown test_plan_memory)
    still_unit(${name} ${kit})
endforeach()
