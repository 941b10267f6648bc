still_fuzz(fuzz_plan) # the planner, every component of every plant
