/*
 * The evening as JSON, for the wall: every scene with its words and the runs that it shows, where
 * each of the 36 stands, what a turn by hand shows, tries.
 */
#ifndef HUBPHASE_SRC_REPORT_LESSON_LESSON_JSON_H
#define HUBPHASE_SRC_REPORT_LESSON_LESSON_JSON_H

#include "report/data/json_tree.h"
#include "report/lesson/scene.h"

/* Sets the members that docs/face.md names under `lesson`. */
void hp_lesson_json_set(hp_json *json, json_t *object, const hp_scene_case *c);

#endif
