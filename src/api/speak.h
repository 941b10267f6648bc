/** @file speak.h  What the library itself asks of a catalogue. Inner header of api/. */
#ifndef STILL_SPEAK_H
#define STILL_SPEAK_H

#include "messages.h"
#include "stillset/catalogue.h"
#include "stillset/record.h"

/** Its texts; NULL = English. */
const still_messages *still_catalogue_messages(const still_catalogue *catalogue);
/** Say in the arena's language what stands in a finished record as a whole text of the program.
 * Words of the closed vocabularies (positions, phases, kinds) stay: who shows them looks them up.
 * @return STILL_OK, STILL_E_NOMEM */
STILL_NODISCARD still_status still_record_speak(still_record *r, still_arena *arena);

#endif
