/*
 * A drive of the library as a machine of the hidden bench's own simulator, figure by figure: for
 * those who hold the two against one another. The bench itself knows nothing of the library.
 */
#ifndef HUBPHASE_TESTS_WORLD_DRIVE_H
#define HUBPHASE_TESTS_WORLD_DRIVE_H

#include "bench_world.h"

#include <hubphase.h>

world_machine world_of_drive(const hp_drive *drive);

#endif
