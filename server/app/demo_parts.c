/* SPDX-License-Identifier: MIT */
/* Why: what nearly every job of the demonstration has behind it, written once. Day 0 of each part
 * is the day of its last work. */
#include "app/demo_job.h"

#include "base/banned.h"

/* From the first walk to the pallets in the dry: the office's part. */
const struct demo_line demo_part_office[] = {
    WORK(-24, 1000, "done", "'task':'site-walk','by':'Ruth Vandermere','photo':'walk-1.jpg'"),
    WORK(-24, 1040, "photo", "'task':'site-walk','photo':'walk-2.jpg','by':'Ruth Vandermere'"),
    WORK(-18, 1430, "done",
         "'task':'permit-get','by':'Marisol Echt','photo':'permit.jpg',"
         "'note':'Inspections copied from the permit: before the pour, framing, final.'"),
    WORK(-18, 1500, "done",
         "'task':'order-kit','by':'Marisol Echt',"
         "'note':'Unit, 14 bags, firebrick, damper, cap. Sheet revision C in the file.'"),
    WORK(-14, 1120, "done", "'task':'book-trades','by':'Marisol Echt'"),
    WORK(0, 1010, "delivered",
         "'item':'Unit on 4 pallets, mortar, firebrick, damper, cap','complete':true,"
         "'photo':'pallets.jpg'"),
    WORK(0, 1120, "done",
         "'task':'kit-receive','photo':'bag-date.jpg','note':'One chipped brick, spare ordered.'"),
    WORK(0, 1130, "bag",
         "'lot':'TV-2207','mortar':'polymer','min_degf':45,'min_for_h':24,'pot_life_min':60,"
         "'made_on':'<w-60>','months':9,'photo':'bag-card.jpg'"),
    LINES_END,
};

const struct demo_line demo_part_footing[] = {
    WORK(0, 930, "passed", "'task':'footing-ready','photo':'footing-tape.jpg'"),
    LINES_END,
};

/* A slab that was there before us: measured, found level, released. */
const struct demo_line demo_part_existing_pad[] = {
    WORK(0, 900, "passed",
         "'task':'footing-ready','photo':'slab-drilled.jpg','note':'7 in. where drilled.'"),
    WORK(0, 1000, "passed",
         "'task':'pad-check','photo':'slab-level.jpg',"
         "'checks':[{'check':'level','value':0.0625},{'check':'scratch','yes':true},"
         "{'check':'probe','value':58},{'check':'cracks','yes':true},"
         "{'check':'dry','yes':true,'initials':'OB'}]"),
    LINES_END,
};

/* Day 0: the deck, four working days after the tower in a closed crawl space or cellar. */
const struct demo_line demo_part_tower[] = {
    WORK(-4, 800, "closed-in", "'part':'unit','how':'room'"),
    WORK(-4, 1430, "done", "'task':'tower-block','photo':'tower.jpg'"),
    WORK(-4, 1435, "reading", "'part':'unit','how':'probe','degf':56"),
    WORK(-3, 900, "reading", "'part':'unit','how':'probe','degf':55"),
    WORK(-2, 900, "reading", "'part':'unit','how':'probe','degf':55"),
    WORK(-1, 900, "reading", "'part':'unit','how':'probe','degf':56"),
    WORK(0, 900, "reading", "'part':'unit','how':'probe','degf':55"),
    WORK(0, 1330, "done", "'task':'deck-set','photo':'deck-below.jpg'"),
    LINES_END,
};

/* Steel, then the inspector; day 0 is the pour's. */
const struct demo_line demo_part_steel[] = {
    WORK(-2, 1400, "done", "'task':'pad-steel','photo':'steel-tape.jpg'"),
    WORK(-1, 1030, "inspection", "'task':'pad-inspect','result':'passed','photo':'slip-pad.jpg'"),
    LINES_END,
};

/* Day 0: poured in a closed house, kept wet a week. */
const struct demo_line demo_part_pour_in_room[] = {
    WORK(0, 800, "closed-in", "'part':'pad','how':'room'"),
    WORK(0, 1000, "started", "'task':'pad-pour'"),
    WORK(0, 1130, "done",
         "'task':'pad-pour','photo':'ticket.jpg','note':'6 in., slump 4, 61 F as placed.'"),
    WORK(0, 1135, "reading", "'part':'pad','how':'probe','degf':61"),
    WORK(0, 1150, "wet-cover-on", "'part':'pad'"),
    WORK(0, 1150, "done", "'task':'pad-protect','photo':'pad-covered.jpg'"),
    LINES_END,
};

/* Day 0: the pour; what follows it when nothing goes wrong. */
const struct demo_line demo_part_pad_released[] = {
    WORK(2, 1400, "done", "'task':'pad-strip','photo':'edge.jpg'"),
    WORK(4, 730, "passed",
         "'task':'pad-check','photo':'pad-level.jpg','note':'Key leaves no groove. Level.'"),
    WORK(7, 1500, "wet-cover-off", "'part':'pad'"),
    LINES_END,
};

/* Day 0 is the second of two days: layout to the transition piece. */
const struct demo_line demo_part_box[] = {
    WORK(-1, 815, "done", "'task':'layout','photo':'diagonals.jpg'"),
    WORK(-1, 1150, "done", "'task':'box-courses','photo':'course-5.jpg'"),
    WORK(-1, 1400, "done", "'task':'throat-set','photo':'throat.jpg'"),
    WORK(-1, 1410, "done", "'task':'lintel-iron','note':'Tilt 5 degrees forward.'"),
    WORK(-1, 1440, "done", "'task':'damper-set','photo':'damper-open.jpg'"),
    WORK(-1, 1515, "covered", "'part':'unit'"),
    WORK(0, 700, "uncovered", "'part':'unit'"),
    WORK(0, 920, "done", "'task':'smoke-chamber','photo':'chamber-up.jpg'"),
    WORK(0, 1020, "done", "'task':'transition-set','photo':'transition-level.jpg'"),
    WORK(0, 1040, "covered", "'part':'unit'"),
    LINES_END,
};

/* Day 0: the cap. Three days, two lifts. */
const struct demo_line demo_part_stack[] = {
    WORK(-2, 800, "started", "'task':'chimney-run'"),
    WORK(-1, 1430, "done", "'task':'chimney-run','photo':'lift-2.jpg'"),
    WORK(0, 1045, "done", "'task':'cap-set','photo':'cap.jpg'"),
    WORK(0, 1100, "done", "'task':'night-cover','photo':'left-covered.jpg'"),
    LINES_END,
};

/* Day 0: the last sponge and the tag. */
const struct demo_line demo_part_lining[] = {
    WORK(-1, 1000, "passed", "'task':'line-floor','photo':'gap-tape.jpg'"),
    WORK(-1, 1430, "done", "'task':'line-back','photo':'back.jpg'"),
    WORK(0, 1240, "passed",
         "'task':'line-sides','photo':'spacers-in-hand.jpg','note':'Spacers out, 14 counted.',"
         "'checks':[{'check':'spacers','value':14,'of':14}]"),
    WORK(0, 1400, "done", "'task':'line-clean','photo':'cleaned.jpg'"),
    WORK(0, 1420, "done", "'task':'tag-hang','photo':'tag.jpg'"),
    LINES_END,
};

/* Day 0: framing seen open. */
const struct demo_line demo_part_framed[] = {
    WORK(-2, 1500, "done", "'task':'frame-others','by':'Two Oxen Carpentry','photo':'header.jpg'"),
    WORK(0, 1100, "inspection",
         "'task':'frame-inspect','result':'passed','photo':'clearance-tape.jpg'"),
    LINES_END,
};

const struct demo_line demo_part_hearth[] = {
    WORK(0, 1400, "done", "'task':'hearth-ext','by':'Marrow Stone Setting','photo':'hearth.jpg'"),
    LINES_END,
};

/* Day 0: the chimney passes the roof. */
const struct demo_line demo_part_roof[] = {
    WORK(0, 1500, "done", "'task':'roof-flash','by':'Hobnail Roofing','photo':'flashing.jpg'"),
    LINES_END,
};

/* Day 0: the second day of the box. Cut before the first course, connected later. */
const struct demo_line demo_part_air[] = {
    WORK(-1, 730, "done", "'task':'air-cut','photo':'air-cut.jpg'"),
    WORK(3, 1100, "done", "'task':'air-duct','by':'Loess Air and Duct','photo':'duct.jpg'"),
    LINES_END,
};

/* Day 0: the plumber's first visit. */
const struct demo_line demo_part_gas[] = {
    WORK(0, 1300, "passed",
         "'task':'gas-rough','by':'Brix and Daughters','inspector':'P. Haldane',"
         "'photo':'gas-slip.jpg'"),
    LINES_END,
};

const struct demo_line demo_part_lighter_top[] = {
    WORK(0, 1030, "passed",
         "'task':'lighter-top','by':'Brix and Daughters','photo':'lighter.jpg',"
         "'note':'Valve key outside the box. Not for fires 1 to 3.'"),
    LINES_END,
};
