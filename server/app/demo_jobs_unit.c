/* SPDX-License-Identifier: MIT */
/* Why: the jobs of the demonstration from the lining on: waiting for the plumber, drying, held up,
 * ready for the first fire. Their units stand in closed places and are read there, but for one that
 * dries outdoors and goes by the station; see demo_jobs_base.c. */
#include "app/demo_job.h"

#include "base/banned.h"

#define H 60 /* minutes */
#define DAY (24 * H)

/* --- the box is up, the gas line in, the flush lighter not --- */

static const struct demo_line foundry[] = {
    WORK(-8, 800, "closed-in", "'part':'unit','how':'room'"),
    WORK(-2, 1100, "passed",
         "'task':'gas-rough','by':'Brix and Daughters','inspector':'P. Haldane',"
         "'photo':'gas-slip.jpg','note':'Pressure held 30 min.'"),
    WORK(0, 830, "note",
         "'task':'lighter-flush','by':'Marisol Echt',"
         "'note':'Brix moved us: his fitter is ill. Nobody lines before he was here.'"),
    WORK(0, 835, "booked",
         "'task':'lighter-flush','date':'<n+3>','by':'Marisol Echt','item':'Brix, by telephone'"),
    LINES_END,
};

/* --- a sprinkler line burst over a drying unit; the date that was given does not hold --- */

static const struct demo_line sorrel[] = {
    WORK(-18, 800, "closed-in", "'part':'unit','how':'room'"),
    WORK(-9, 1000, "agreed", "'date':'<w-12+31>','by':'Ruth Vandermere'"),
    AFTER(0, "soaked",
          "'part':'unit','standing':true,'photo':'wet-hearth.jpg','by':'Homeowner, by telephone',"
          "'note':'Sprinkler line burst behind the porch wall. Water stood on the smoke shelf.'"),
    AFTER(90, "note",
          "'part':'unit','by':'Ruth Vandermere','note':'Water off, mopped out, porch aired.'"),
    LINES_END,
};

/* --- the stone setter finished long after the lining --- */

static const struct demo_line quarry[] = {
    WORK(-30, 800, "closed-in", "'part':'unit','how':'room'"),
    WORK(-1, 1500, "facing", "'by':'Marrow Stone Setting','photo':'face-1.jpg'"),
    AFTER(0, "facing", "'last':true,'by':'Marrow Stone Setting','photo':'face-done.jpg'"),
    AFTER(30, "agreed",
          "'date':'<w+0+22>','by':'Ruth Vandermere',"
          "'reason':'Fourteen drying days behind the stone, and a week to spare.'"),
    AFTER(60, "booked",
          "'task':'final-inspect','date':'<n+4>','by':'Marisol Echt','item':'P. Haldane'"),
    LINES_END,
};

/* --- drying in a place that never gets warm --- */

static const struct demo_line ice_house[] = {
    WORK(-10, 800, "closed-in", "'part':'unit','how':'room'"),
    AFTER(-30, "reading", "'part':'unit','how':'probe','degf':52"),
    AFTER(2 * DAY, "note",
          "'part':'unit','note':'Heater went home with the framers. Logger on the back wall.'"),
    LINES_END,
};

/* --- twenty-eight counted, inspected, handed over --- */

static const struct demo_line linden[] = {
    WORK(-10, 800, "closed-in", "'part':'unit','how':'room'"),
    WORK(14, 900, "uncovered", "'note':'Tarp off the stack, it stays off.'"),
    WORK(15, 1000, "agreed", "'date':'<w+0+32>','by':'Ruth Vandermere'"),
    WORK(20, 1030, "inspection",
         "'task':'final-inspect','result':'passed','photo':'slip-final.jpg',"
         "'note':'Alarms heard.'"),
    TODAY(-1, 1600, "done",
          "'task':'handover','by':'Ruth Vandermere','photo':'sheet-signed.jpg',"
          "'note':'Tag off. Five-fire sheet gone through in both languages.'"),
    LINES_END,
};

/* --- somebody lit it --- */

static const struct demo_line toll_road[] = {
    WORK(-9, 800, "closed-in", "'part':'unit','how':'room'"),
    TODAY(-1, 2010, "lit",
          "'by':'Homeowner, by telephone','note':'A guest burned paper and two sticks.'"),
    LINES_END,
};

/* --- outdoors, with nothing but the weather to go by --- */

static const struct demo_line lantern[] = {
    WORK(-3, 900, "looked",
         "'part':'joints','result':'no-damage-seen','by':'Ruth Vandermere','photo':'joints.jpg'"),
    WORK(0, 1500, "covered", "'note':'Loose tarp on the cap, open at the sides.'"),
    WORK(2, 900, "uncovered", "'note':'Tarp off to let it dry.'"),
    WORK(4, 1000, "wrapped", "'by':'Homeowner','note':'Wrapped in plastic against the leaves.'"),
    WORK(5, 830, "unwrapped", "'note':'Plastic off again. It has to breathe.'"),
    WORK(9, 1520, "covered", "'note':'Wet front coming.'"),
    WORK(11, 800, "uncovered", NULL),
    LINES_END,
};

#define COUNTY "'town':{'name':'Tamsel County','request_cutoff':'14:00'}"

const struct demo_job demo_jobs_unit[] = {
    {.head = "'id':'foundry-loft','name':'Foundry Loft','station':'tamsel-mill','crew':'river',"
             "'rulebook':'modular-masonry','time_zone':'America/Denver','homeowner':'A. Brokkel',"
             "'access':'Freight lift, ask for the caretaker.','latitude':43.71,'longitude':-109.40,"
             "'options':{'base':'slab','pad':'existing','place':'indoor','lighter':'flush',"
             "'lining':'mixed','facing':'framed','through_roof':true," COUNTY "},"
             "'quantities':{'opening_width_in':42,'opening_height_in':32,'courses':5,"
             "'chimney_ft':16,'floor_brick':36,'back_brick':45,'side_brick':56,'gas_ft':22,"
             "'pallets':4,'drive_h':0.3}",
     .lead = "Ines Tavarel",
     .inspector = "P. Haldane",
     .before_min = DAY,
     .parts = {{demo_part_office, -9},
               {demo_part_existing_pad, -12},
               {demo_part_box, -6},
               {demo_part_stack, -3},
               {demo_part_roof, -4},
               {foundry, 0}},
     .readings = {{"unit", "thermostat", -12, 4, 3, {900, 0}, 66, 2}}},
    {.head = "'id':'sorrel-gap','name':'Sorrel Gap','station':'tamsel-mill','crew':'ridge',"
             "'rulebook':'modular-masonry','time_zone':'America/Denver','homeowner':'P. Lindqvast',"
             "'address':'Glass porch, Sorrel Gap ranch','latitude':43.60,'longitude':-109.30,"
             "'options':{'base':'slab','pad':'existing','place':'covered','permit':false,"
             "'lining':'thin','facing':'none'},"
             "'quantities':{'opening_width_in':36,'opening_height_in':28,'courses':4,"
             "'chimney_ft':10,'floor_brick':28,'back_brick':36,'side_brick':44,'pallets':3,"
             "'drive_h':0.9}",
     .lead = "Colm Adair",
     .inspector = "",
     .before_min = 4 * DAY,
     .parts = {{demo_part_office, -20},
               {demo_part_existing_pad, -21},
               {demo_part_box, -17},
               {demo_part_stack, -14},
               {demo_part_lining, -12},
               {demo_part_hearth, -8},
               {sorrel, 0}},
     .readings = {{"unit", "thermostat", -26, 9, 3, {900, 0}, 62, 2}}},
    {.head = "'id':'lantern-field','name':'Lantern Field','station':'tamsel-mill','crew':'river',"
             "'rulebook':'modular-masonry','time_zone':'America/Denver',"
             "'homeowner':'E. and O. Brackwater','address':'Garden wall, Lantern Field',"
             "'note':'Hollow by the river: colder than the mill on clear nights.',"
             "'site_offset_degf':-3,'latitude':43.66,'longitude':-109.35,"
             "'options':{'base':'slab','pad':'existing','place':'exposed','permit':false,"
             "'lining':'thin','facing':'none'},"
             "'quantities':{'opening_width_in':42,'opening_height_in':30,'courses':4,"
             "'chimney_ft':9,'floor_brick':32,'back_brick':40,'side_brick':48,'pallets':3,"
             "'drive_h':0.5}",
     .lead = "Ines Tavarel",
     .inspector = "",
     .before_min = 66 * DAY,
     .parts = {{demo_part_office, -16},
               {demo_part_existing_pad, -17},
               {demo_part_box, -9},
               {demo_part_stack, -5},
               {demo_part_lining, 0},
               {demo_part_hearth, 3},
               {lantern, 0}}},
    {.head =
         "'id':'quarry-house','name':'Quarry House','station':'tamsel-mill','crew':'ridge',"
         "'rulebook':'modular-masonry','time_zone':'America/Denver','homeowner':'V. and T. Ansgar',"
         "'latitude':43.81,'longitude':-109.45,"
         "'options':{'base':'slab','pad':'new','place':'indoor','lining':'thick',"
         "'facing':'mortared','through_roof':true," COUNTY "},"
         "'quantities':{'opening_width_in':48,'opening_height_in':36,'courses':6,"
         "'chimney_ft':20,'floor_brick':44,'back_brick':54,'side_brick':64,'pad_ft2':34,"
         "'pad_thickness_in':6,'sleeves':0,'facing_ft2':60,'pallets':5,'drive_h':0.5}",
     .lead = "Colm Adair",
     .inspector = "P. Haldane",
     .before_min = 60 * H,
     .parts = {{demo_part_office, -30},
               {demo_part_footing, -36},
               {demo_part_steel, -30},
               {demo_part_pour_in_room, -30},
               {demo_part_pad_released, -30},
               {demo_part_box, -24},
               {demo_part_stack, -20},
               {demo_part_roof, -21},
               {demo_part_lining, -16},
               {demo_part_framed, -10},
               {demo_part_hearth, -8},
               {quarry, 0}},
     .readings = {{"pad", "probe", -43, -24, 1, {800, 0}, 60, 2},
                  {"unit", "thermostat", -42, 6, 3, {910, 0}, 67, 2}}},
    {.head = "'id':'ice-house','name':'Ice House','station':'tamsel-mill','crew':'river',"
             "'rulebook':'modular-masonry','time_zone':'America/Denver','homeowner':'N. Farrowby',"
             "'note':'Old ice house: stone walls, never warm, unheated until the owners move in.',"
             "'latitude':43.69,'longitude':-109.48,"
             "'options':{'base':'basement','pad':'existing','place':'indoor','lining':'mixed',"
             "'facing':'none'," COUNTY "},"
             "'quantities':{'opening_width_in':36,'opening_height_in':29,'courses':5,"
             "'chimney_ft':18,'floor_brick':30,'back_brick':38,'side_brick':48,'pallets':4,"
             "'drive_h':0.4}",
     .lead = "Ines Tavarel",
     .inspector = "P. Haldane",
     .before_min = 12 * DAY,
     .parts = {{demo_part_office, -12},
               {demo_part_existing_pad, -13},
               {demo_part_box, -8},
               {demo_part_stack, -4},
               {demo_part_lining, 0},
               {demo_part_framed, 4},
               {demo_part_hearth, 6},
               {ice_house, 0}},
     .readings = {{"unit", "probe", -14, -1, 1, {900, 1400}, 54, 2},
                  {"unit", "probe", 1, 20, 1, {900, 1500}, 44, 1}},
     .logged = "FFHHZZHHHHZ"},
    {.head =
         "'id':'linden-row','name':'Linden Row','station':'tamsel-mill','crew':'ridge',"
         "'rulebook':'modular-masonry','time_zone':'America/Denver','homeowner':'Mrs. Haverlock',"
         "'latitude':43.71,'longitude':-109.37,"
         "'options':{'base':'slab','pad':'existing','place':'indoor','lighter':'top',"
         "'outside_air':true,'lining':'mixed','facing':'framed'," COUNTY "},"
         "'quantities':{'opening_width_in':42,'opening_height_in':32,'courses':5,"
         "'chimney_ft':14,'floor_brick':36,'back_brick':45,'side_brick':56,'duct_ft':9,"
         "'gas_ft':15,'pallets':4,'drive_h':0.2}",
     .lead = "Colm Adair",
     .inspector = "P. Haldane",
     .before_min = 31 * DAY,
     .parts = {{demo_part_office, -10},
               {demo_part_existing_pad, -12},
               {demo_part_air, -6},
               {demo_part_box, -6},
               {demo_part_stack, -3},
               {demo_part_gas, -2},
               {demo_part_lining, 0},
               {demo_part_framed, 6},
               {demo_part_hearth, 8},
               {demo_part_lighter_top, 10},
               {linden, 0}},
     .readings = {{"unit", "thermostat", -12, 40, 5, {900, 0}, 68, 1}}},
    {.head =
         "'id':'toll-road','name':'Toll Road','station':'tamsel-mill','crew':'ridge',"
         "'rulebook':'modular-masonry','time_zone':'America/Denver','homeowner':'H. Castellane',"
         "'latitude':43.67,'longitude':-109.43,"
         "'options':{'base':'crawl','pad':'existing','place':'indoor','lining':'thin',"
         "'facing':'framed'," COUNTY "},"
         "'quantities':{'opening_width_in':36,'opening_height_in':28,'courses':4,"
         "'chimney_ft':13,'floor_brick':28,'back_brick':36,'side_brick':44,'pallets':3,"
         "'drive_h':0.4}",
     .lead = "Colm Adair",
     .inspector = "P. Haldane",
     .before_min = 9 * DAY,
     .parts = {{demo_part_office, -10},
               {demo_part_existing_pad, -11},
               {demo_part_box, -6},
               {demo_part_stack, -3},
               {demo_part_lining, 0},
               {demo_part_framed, 4},
               {demo_part_hearth, 5},
               {toll_road, 0}},
     .readings = {{"unit", "thermostat", -12, 20, 4, {900, 0}, 67, 1}}},
};
const size_t demo_jobs_unit_count = sizeof demo_jobs_unit / sizeof *demo_jobs_unit;
