/* SPDX-License-Identifier: MIT */
/* Why: see crew_load.h. One row a task; a task without a row needs nothing on the truck. */
#include "views/crew_load.h"

#include <stddef.h>

#include "base/banned.h"

#define CREW_LOAD_ID(name, id) id,
static const char *const material_text[] = {MATERIAL_LIST(CREW_LOAD_ID)};
const struct id_table material_ids = {"material", material_text, MATERIAL_COUNT};
static const char *const tool_text[] = {TOOL_LIST(CREW_LOAD_ID)};
const struct id_table tool_ids = {"tool", tool_text, TOOL_COUNT};

#define M(name) (UINT64_C(1) << MATERIAL_##name)
#define T(name) (UINT64_C(1) << TOOL_##name)

/* Setting pieces: the same hands and buckets each time. */
#define SETTING (T(LEVEL) | T(TROWELS) | T(MIXER) | T(MALLET) | T(PROBE) | T(GLOVES))
#define LINING (T(LEVEL) | T(TROWELS) | T(MIXER) | T(TAPE) | T(PROBE) | T(GLOVES))

struct load {
    enum task task;
    uint64_t materials;
    uint64_t tools;
};

static const struct load loads[] = {
    {TASK_KIT_RECEIVE, M(TARP), T(HOIST) | T(GLOVES)},
    {TASK_FOOTING_READY, M(CONCRETE), T(TAPE) | T(LEVEL) | T(FLOATS)},
    {TASK_TOWER_BLOCK, M(BLOCK) | M(GROUT) | M(STEEL), SETTING | T(STRING)},
    {TASK_DECK_SET, M(DECK) | M(PROPS), T(LEVEL) | T(TAPE) | T(SAW)},
    {TASK_PAD_STEEL, M(FORMS) | M(STEEL) | M(SLEEVES), T(PLIERS) | T(TAPE) | T(LEVEL)},
    {TASK_PAD_POUR, M(CONCRETE) | M(WET_COVER) | M(BLANKETS),
     T(FLOATS) | T(LEVEL) | T(PROBE) | T(GLOVES)},
    {TASK_PAD_PROTECT, M(WET_COVER) | M(BLANKETS), T(PROBE)},
    {TASK_PAD_STRIP, 0, T(BAR) | T(PROBE)},
    {TASK_PAD_CHECK, 0, T(LEVEL) | T(TAPE) | T(PROBE)},
    {TASK_PROPS_OUT, 0, T(BAR) | T(GLOVES)},
    {TASK_AIR_CUT, 0, T(SAW) | T(TAPE) | T(GLOVES)},
    {TASK_LAYOUT, M(ADHESIVE), T(STRING) | T(TAPE) | SETTING},
    {TASK_BOX_COURSES, M(UNIT_PIECES) | M(ADHESIVE), SETTING | T(HOIST) | T(STRING)},
    {TASK_THROAT_SET, M(UNIT_PIECES) | M(ADHESIVE), SETTING | T(HOIST)},
    {TASK_LINTEL_IRON, M(ANGLE) | M(ADHESIVE), SETTING},
    {TASK_DAMPER_SET, M(DAMPER) | M(ADHESIVE), T(LEVEL) | T(TROWELS) | T(GLOVES)},
    {TASK_SMOKE_CHAMBER, M(UNIT_PIECES) | M(ADHESIVE), SETTING | T(HOIST) | T(LIGHT)},
    {TASK_TRANSITION_SET, M(UNIT_PIECES) | M(ADHESIVE), SETTING | T(HOIST)},
    {TASK_CHIMNEY_RUN, M(CHIMNEY_BLOCK) | M(ADHESIVE),
     SETTING | T(HOIST) | T(SCAFFOLD) | T(ROPE_BAG)},
    {TASK_CAP_SET, M(CAP) | M(ADHESIVE), SETTING | T(SCAFFOLD) | T(HOIST)},
    {TASK_NIGHT_COVER, M(TARP) | M(BLANKETS), T(PROBE)},
    {TASK_LINE_FLOOR, M(FIREBRICK) | M(REFRACTORY) | M(SPACERS), LINING | T(SAW)},
    {TASK_LINE_BACK, M(FIREBRICK) | M(REFRACTORY) | M(SPACERS), LINING | T(SAW)},
    {TASK_LINE_SIDES, M(FIREBRICK) | M(REFRACTORY) | M(SPACERS), LINING | T(SAW) | T(LIGHT)},
    {TASK_LINE_CLEAN, M(SPONGE), T(LIGHT) | T(GLOVES)},
    {TASK_TAG_HANG, M(TAG), 0},
    {TASK_HEARTH_EXT, M(HEARTH) | M(ADHESIVE), T(TAPE) | SETTING | T(SAW)},
    {TASK_CURE_WATCH, 0, T(PROBE) | T(LIGHT)},
    {TASK_HANDOVER, M(FIRE_SHEET), T(LIGHT)},
    {TASK_FIRE_1, M(KINDLING) | M(FIRE_SHEET), T(PROBE)},
};

static const struct load *load_of(enum task task)
{
    for (size_t i = 0; i < sizeof loads / sizeof *loads; i++) {
        if (loads[i].task == task) return &loads[i];
    }
    return NULL;
}

uint64_t crew_load_materials(enum task task)
{
    const struct load *load = load_of(task);
    return load == NULL ? 0 : load->materials;
}

uint64_t crew_load_tools(enum task task)
{
    const struct load *load = load_of(task);
    return load == NULL ? 0 : load->tools;
}
