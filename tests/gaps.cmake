# Places for new relief valves, and what changed between two revisions of a plant.
foreach(name test_places test_since)
    still_unit(${name} unit/plantkit.c unit/planttext.c unit/kit_ask.c)
endforeach()
