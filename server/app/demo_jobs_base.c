/* SPDX-License-Identifier: MIT */
/*
 * Why: the jobs of the demonstration that stand before their lining. Where a job must be in a
 * certain state on any date of the year, it is read under a blanket or in a closed place, and the
 * readings are written out here: the valley's weather does not decide it.
 */
#include "app/demo_job.h"

#include "base/banned.h"

#define H 60 /* minutes */

/* --- poured 64 hours ago, a long drive away, cold under its blankets --- */

static const struct demo_line vesper[] = {
    AFTER(-150, "started", "'task':'pad-pour'"),
    AFTER(0, "done", "'task':'pad-pour','photo':'ticket.jpg','note':'6 in., 52 F as placed.'"),
    AFTER(0, "reading", "'part':'pad','how':'probe','degf':52"),
    AFTER(0, "closed-in", "'part':'pad','how':'blanket'"),
    AFTER(5, "wet-cover-on", "'part':'pad'"),
    AFTER(25, "done", "'task':'pad-protect','photo':'blankets.jpg'"),
    AFTER(30, "reading", "'part':'pad','how':'probe','degf':51"),
    AFTER(5 * H, "reading", "'part':'pad','how':'probe','degf':46,'by':'Homeowner, by message'"),
    AFTER(17 * H, "reading", "'part':'pad','how':'probe','degf':43,'photo':'probe.jpg'"),
    AFTER(29 * H, "reading", "'part':'pad','how':'probe','degf':44"),
    AFTER(41 * H, "reading", "'part':'pad','how':'probe','degf':44"),
    AFTER(53 * H, "reading", "'part':'pad','how':'probe','degf':45"),
    AFTER(63 * H, "reading", "'part':'pad','how':'probe','degf':44,'photo':'probe-2.jpg'"),
    AFTER(75 * H, "reading", "'part':'pad','how':'probe','degf':44"),
    AFTER(86 * H, "reading", "'part':'pad','how':'probe','degf':44"),
    AFTER(98 * H, "reading", "'part':'pad','how':'probe','degf':43"),
    AFTER(109 * H, "reading", "'part':'pad','how':'probe','degf':43"),
    LINES_END,
};

/* --- the first night went to 30 F --- */

static const struct demo_line maddock[] = {
    AFTER(0, "done", "'task':'pad-pour','photo':'ticket.jpg','note':'6 in., 50 F as placed.'"),
    AFTER(0, "reading", "'part':'pad','how':'probe','degf':50"),
    AFTER(0, "closed-in", "'part':'pad','how':'blanket'"),
    AFTER(5, "wet-cover-on", "'part':'pad'"),
    AFTER(25, "done", "'task':'pad-protect','photo':'blankets.jpg'"),
    AFTER(30, "reading", "'part':'pad','how':'probe','degf':48"),
    AFTER(4 * H, "reading", "'part':'pad','how':'probe','degf':40"),
    AFTER(14 * H, "reading",
          "'part':'pad','how':'probe','degf':30,'photo':'probe-dawn.jpg',"
          "'note':'Blanket blown back at the north edge, rime under it.'"),
    AFTER(16 * H, "reading", "'part':'pad','how':'probe','degf':37"),
    LINES_END,
};

/* --- a cellar without a signal: the cold note came up a day late --- */

static const struct demo_line cellar[] = {
    AFTER(-4 * H, "closed-in", "'part':'pad','how':'room'"),
    AFTER(0, "done", "'task':'pad-pour','photo':'ticket.jpg','note':'Bucketed down, 6 in.'"),
    AFTER(0, "reading", "'part':'pad','how':'probe','degf':55"),
    AFTER(20, "wet-cover-on", "'part':'pad'"),
    AFTER(20, "done", "'task':'pad-protect','photo':'covered.jpg'"),
    AFTER(40, "reading", "'part':'pad','how':'probe','degf':54"),
    AFTER(17 * H, "reading", "'part':'pad','how':'probe','degf':52"),
    LATE(41 * H, 95, "reading",
         "'part':'pad','how':'probe','degf':42,'photo':'probe-cellar.jpg',"
         "'by':'D. Imre, homeowner',"
         "'note':'Taken below, no signal. The hatch had stood open overnight.'"),
    LATE(41 * H + 5, 95, "note",
         "'task':'pad-check','by':'D. Imre, homeowner','note':'Hatch shut again.'"),
    LINES_END,
};

/* --- just begun --- */

static const struct demo_line hatch[] = {
    WORK(0, 1000, "done", "'task':'site-walk','by':'Ruth Vandermere','photo':'walk.jpg'"),
    WORK(0, 1030, "note",
         "'task':'site-walk','by':'Ruth Vandermere',"
         "'note':'Opening 36 wide. Stair is narrow: pieces by the garden side.'"),
    WORK(1, 1400, "started",
         "'task':'permit-get','by':'Marisol Echt','note':'Handed in, ten working days.'"),
    LINES_END,
};

/* --- box courses of this morning, joints still green --- */

static const struct demo_line brindle[] = {
    WORK(-1, 1330, "closed-in", "'part':'unit','how':'enclosure','photo':'tent.jpg'"),
    AFTER(-6 * H, "reading", "'part':'unit','how':'probe','degf':46"),
    AFTER(-5 * H, "done", "'task':'layout','photo':'diagonals.jpg'"),
    AFTER(-4 * H, "started", "'task':'box-courses'"),
    AFTER(0, "done", "'task':'box-courses','photo':'course-5.jpg'"),
    AFTER(5, "reading", "'part':'unit','how':'probe','degf':46"),
    WORK(-1, 1000, "booked",
         "'task':'throat-inspect','date':'<n+2>','by':'Marisol Echt',"
         "'item':'J. Brandvold, morning'"),
    LINES_END,
};

/* --- steel tied, the inspector asked for --- */

static const struct demo_line ferry[] = {
    WORK(-1, 900, "started", "'task':'pad-steel'"),
    WORK(0, 1430, "done",
         "'task':'pad-steel','photo':'steel-tape.jpg','note':'No. 4 at 12 in., gas sleeve in.'"),
    WORK(0, 1445, "booked",
         "'task':'pad-inspect','date':'<n+1>','by':'Marisol Echt',"
         "'item':'J. Brandvold, asked by telephone'"),
    LINES_END,
};

/* --- first lift up, the next one after a night --- */

static const struct demo_line orrin[] = {
    WORK(-12, 1000, "closed-in", "'part':'pad','how':'room'"),
    WORK(-12, 1130, "started", "'task':'pad-pour'"),
    WORK(-12, 1330, "done", "'task':'pad-pour','photo':'ticket.jpg','note':'Ash mix, 63 F.'"),
    WORK(-12, 1335, "reading", "'part':'pad','how':'probe','degf':63"),
    WORK(-12, 1350, "wet-cover-on", "'part':'pad'"),
    WORK(-12, 1350, "done", "'task':'pad-protect','photo':'covered.jpg'"),
    WORK(-11, 900, "engineer",
         "'rule':'pad.chimney-load','floor_h':120,'need':96,'by':'S. Quillfeather, engineer',"
         "'sheet':'Sheet S-2, tower and pad','reason':'Ash mix over the cellar.'"),
    WORK(-5, 900, "done", "'task':'air-cut','photo':'air-cut.jpg'"),
    AFTER(-5 * H, "started", "'task':'chimney-run'"),
    AFTER(0, "stopped",
          "'task':'chimney-run','why':'other','note':'First 4 ft up. Next lift tomorrow.'"),
    AFTER(10, "reading", "'part':'unit','how':'surface','degf':55,'photo':'lift-1.jpg'"),
    AFTER(20, "booked",
          "'task':'gas-rough','date':'<n+4>','by':'Marisol Echt','item':'Brix, confirmed'"),
    AFTER(21, "booked",
          "'task':'air-duct','date':'<n+5>','by':'Marisol Echt','item':'Loess, confirmed'"),
    LINES_END,
};

/* --- begun by another builder, taken over --- */

static const struct demo_line stage_stop[] = {
    WORK(-19, 1200, "done",
         "'task':'pad-pour','by':'First builder, from his papers','note':'No readings handed "
         "over.'"),
    WORK(-19, 1200, "closed-in",
         "'part':'pad','how':'enclosure','by':'First builder, from his papers'"),
    WORK(-19, 1300, "done", "'task':'pad-protect','by':'First builder, from his papers'"),
    WORK(-16, 900, "done", "'task':'pad-strip','by':'First builder, from his papers'"),
    WORK(-2, 1000, "looked",
         "'part':'pad','result':'no-damage-seen','by':'Ruth Vandermere','photo':'scratch.jpg'"),
    WORK(-2, 1030, "accepted",
         "'clock':'pad.strip','by':'Ruth Vandermere','reason':'Forms were off when we came.'"),
    WORK(-2, 1030, "accepted",
         "'clock':'pad.first-frost','by':'Ruth Vandermere','reason':'Scratched and sounded.'"),
    WORK(-2, 1030, "accepted",
         "'clock':'pad.build-on','by':'Ruth Vandermere','reason':'Scratched and sounded.'"),
    WORK(-2, 1030, "accepted",
         "'clock':'pad.chimney-load','by':'Ruth Vandermere','reason':'Three weeks old by the "
         "ticket, sounded, no hollow place.'"),
    WORK(-2, 1040, "passed",
         "'task':'pad-check','by':'Ruth Vandermere','photo':'pad-level.jpg',"
         "'checks':[{'check':'level','value':0.125},{'check':'scratch','yes':true},"
         "{'check':'probe','value':52},{'check':'cracks','yes':true},"
         "{'check':'dry','yes':true,'initials':'RV'}]"),
    WORK(-12, 800, "closed-in",
         "'part':'unit','how':'enclosure','by':'First builder, from his papers'"),
    WORK(-12, 1100, "done", "'task':'layout','by':'First builder, from his papers'"),
    WORK(-12, 1500, "done", "'task':'box-courses','by':'First builder, from his papers'"),
    WORK(-1, 930, "reading", "'part':'unit','how':'probe','degf':56,'photo':'probe-tent.jpg'"),
    WORK(
        -1, 1100, "accepted",
        "'clock':'joints.early','by':'Ruth Vandermere','reason':'Tapped course by course, tight.'"),
    WORK(0, 900, "note",
         "'task':'throat-set','by':'Ruth Vandermere',"
         "'note':'Taken over from the box up. Damper and chimney blocks are on the site.'"),
    LINES_END,
};

#define PERMIT_TOWN "'town':{'name':'Orrin Ferry','throat_look':true,'request_cutoff':'11:00'}"
#define COUNTY "'town':{'name':'Tamsel County','request_cutoff':'14:00'}"

const struct demo_job demo_jobs_base[] = {
    {.head = "'id':'vesper-bench','name':'Vesper Bench','station':'tamsel-mill','crew':'ridge',"
             "'rulebook':'modular-masonry','time_zone':'America/Denver','homeowner':'E. Tollefse',"
             "'address':'End of Bench Road','access':'Gate 2207. Blue dog is friendly.',"
             "'latitude':44.02,'longitude':-109.86,"
             "'options':{'base':'crawl','pad':'new','place':'indoor','outside_air':true,"
             "'lining':'mixed','facing':'framed','through_roof':true," COUNTY "},"
             "'quantities':{'opening_width_in':42,'opening_height_in':32,'courses':5,"
             "'chimney_ft':18,'floor_brick':36,'back_brick':45,'side_brick':56,'pad_ft2':28,"
             "'pad_thickness_in':6,'tower_blocks':64,'tower_ft':4,'sleeves':1,'duct_ft':12,"
             "'pallets':4,'drive_h':1.25}",
     .lead = "Colm Adair",
     .inspector = "P. Haldane",
     .before_min = 64 * H,
     .parts = {{demo_part_office, -6},
               {demo_part_footing, -12},
               {demo_part_tower, -4},
               {demo_part_steel, 0},
               {vesper, 0}}},
    {.head =
         "'id':'maddock-fork','name':'Maddock Fork','station':'tamsel-mill','crew':'river',"
         "'rulebook':'modular-masonry','time_zone':'America/Denver','homeowner':'The Arnessons',"
         "'address':'Upper hollow, Maddock Fork','note':'A cold hollow at 9,400 ft.',"
         "'site_offset_degf':-8,'latitude':43.61,'longitude':-109.52,"
         "'options':{'base':'slab','pad':'new','place':'exposed',"
         "'town':{'name':'Tamsel County','request_cutoff':'14:00','burn_ban_district':true}},"
         "'quantities':{'opening_width_in':48,'opening_height_in':36,'courses':6,"
         "'chimney_ft':10,'floor_brick':44,'back_brick':54,'side_brick':64,'pad_ft2':36,"
         "'pad_thickness_in':6,'sleeves':0,'pallets':4,'drive_h':0.8}",
     .lead = "Ines Tavarel",
     .inspector = "P. Haldane",
     .before_min = 30 * H,
     .parts =
         {{demo_part_office, -3}, {demo_part_footing, -5}, {demo_part_steel, 0}, {maddock, 0}}},
    {.head = "'id':'cellar-lane','name':'Cellar Lane','station':'tamsel-mill','crew':'river',"
             "'rulebook':'modular-masonry','time_zone':'America/Denver','homeowner':'D. Imre',"
             "'access':'Hatch at the back, no signal below.','latitude':43.72,'longitude':-109.41,"
             "'options':{'base':'basement','pad':'new','place':'indoor','lining':'thick'," COUNTY
             "},'quantities':{'opening_width_in':36,'opening_height_in':29,'courses':5,"
             "'chimney_ft':22,'floor_brick':30,'back_brick':38,'side_brick':48,'pad_ft2':24,"
             "'pad_thickness_in':6,'tower_blocks':110,'tower_ft':7,'sleeves':1,'pallets':4,"
             "'drive_h':0.3}",
     .lead = "Ines Tavarel",
     .inspector = "P. Haldane",
     .before_min = 66 * H,
     .parts = {{demo_part_office, -8},
               {demo_part_footing, -13},
               {demo_part_tower, -4},
               {demo_part_steel, 0},
               {cellar, 0}}},
    {.head =
         "'id':'hatch-lane','name':'Hatch Lane','station':'tamsel-mill',"
         "'rulebook':'modular-masonry','time_zone':'America/Denver','homeowner':'B. Okonjo-Lind',"
         "'latitude':43.70,'longitude':-109.38,"
         "'options':{'base':'slab','pad':'new','place':'indoor','outside_air':true,"
         "'lighter':'top','facing':'framed','through_roof':true," COUNTY "},"
         "'quantities':{'opening_width_in':36,'opening_height_in':28,'courses':4,"
         "'chimney_ft':16,'floor_brick':28,'back_brick':36,'side_brick':44,'pad_ft2':22,"
         "'pad_thickness_in':6,'sleeves':2,'duct_ft':8,'gas_ft':26,'pallets':3,'drive_h':0.2}",
     .lead = "Ruth Vandermere",
     .inspector = "P. Haldane",
     .before_min = 5 * 24 * H,
     .parts = {{hatch, 0}}},
    {.head = "'id':'brindle-creek','name':'Brindle Creek','station':'tamsel-mill','crew':'river',"
             "'rulebook':'modular-masonry','time_zone':'America/Denver','homeowner':'L. Sandoe',"
             "'address':'Spring house, Brindle Creek','access':'Park on the gravel only.',"
             "'latitude':43.66,'longitude':-109.35,"
             "'options':{'base':'slab','pad':'new','place':'covered','lining':'thick',"
             "'facing':'none'," PERMIT_TOWN "},"
             "'quantities':{'opening_width_in':42,'opening_height_in':32,'courses':5,"
             "'chimney_ft':12,'floor_brick':36,'back_brick':45,'side_brick':56,'pad_ft2':30,"
             "'pad_thickness_in':6,'sleeves':0,'pallets':4,'drive_h':0.5}",
     .lead = "Ines Tavarel",
     .inspector = "J. Brandvold",
     .before_min = 30,
     .parts = {{demo_part_office, -4},
               {demo_part_footing, -14},
               {demo_part_steel, -9},
               {demo_part_pour_in_room, -9},
               {demo_part_pad_released, -9},
               {brindle, 0}},
     .readings = {{"pad", "probe", -14, -2, 1, {800, 0}, 58, 2}}},
    {.head = "'id':'ferry-landing','name':'Ferry Landing','station':'tamsel-mill','crew':'ridge',"
             "'rulebook':'modular-masonry','time_zone':'America/Denver','homeowner':'M. Rask',"
             "'latitude':43.77,'longitude':-109.33,"
             "'options':{'base':'slab','pad':'new','place':'indoor','lighter':'flush',"
             "'facing':'framed','town':{'name':'Orrin Ferry','throat_look':true,"
             "'build_on_floor_h':72,'request_cutoff':'11:00','seismic':true}},"
             "'quantities':{'opening_width_in':42,'opening_height_in':32,'courses':5,"
             "'chimney_ft':14,'floor_brick':36,'back_brick':45,'side_brick':56,'pad_ft2':26,"
             "'pad_thickness_in':6,'sleeves':1,'gas_ft':18,'pallets':4,'drive_h':0.4}",
     .lead = "Colm Adair",
     .inspector = "J. Brandvold",
     .before_min = 16 * H,
     .parts = {{demo_part_office, -2}, {demo_part_footing, -2}, {ferry, 0}}},
    {.head =
         "'id':'orrin-mill','name':'Orrin Mill','station':'tamsel-mill','crew':'ridge',"
         "'rulebook':'modular-masonry','time_zone':'America/Denver','homeowner':'The Mill Trust',"
         "'access':'Key at the miller’s office.','latitude':43.75,'longitude':-109.31,"
         "'options':{'base':'basement','pad':'new','place':'indoor','setting_out':'chalk',"
         "'outside_air':true,'lighter':'top','lining':'thick','facing':'framed',"
         "'propped':true,'mix':'blended'," COUNTY "},"
         "'quantities':{'opening_width_in':48,'opening_height_in':36,'courses':6,"
         "'chimney_ft':15,'floor_brick':44,'back_brick':54,'side_brick':64,'pad_ft2':36,"
         "'pad_thickness_in':6,'tower_blocks':96,'tower_ft':6,'sleeves':2,'duct_ft':10,"
         "'gas_ft':30,'pallets':5,'drive_h':0.6}",
     .lead = "Colm Adair",
     .inspector = "P. Haldane",
     .before_min = 15 * H,
     .parts = {{demo_part_office, -7},
               {demo_part_footing, -20},
               {demo_part_tower, -15},
               {demo_part_steel, -12},
               {demo_part_pad_released, -12},
               {demo_part_box, -3},
               {orrin, 0}},
     .readings = {{"pad", "probe", -17, 6, 1, {810, 0}, 62, 2},
                  {"unit", "probe", -8, 6, 1, {820, 0}, 56, 2}}},
    {.head =
         "'id':'stage-stop','name':'Stage Stop','station':'tamsel-mill','crew':'river',"
         "'rulebook':'modular-masonry','time_zone':'America/Denver','homeowner':'C. Wyeke',"
         "'note':'Taken over half built. What came before us is from the first builder’s papers.',"
         "'latitude':43.58,'longitude':-109.44,"
         "'options':{'base':'slab','pad':'new','place':'exposed','facing':'none'," COUNTY "},"
         "'quantities':{'opening_width_in':42,'opening_height_in':32,'courses':5,"
         "'chimney_ft':11,'floor_brick':36,'back_brick':45,'side_brick':56,'pad_ft2':30,"
         "'pad_thickness_in':6,'sleeves':0,'pallets':4,'drive_h':0.7}",
     .lead = "Ines Tavarel",
     .inspector = "P. Haldane",
     .before_min = 2 * 24 * H,
     .parts = {{demo_part_office, -20},
               {demo_part_footing, -23},
               {demo_part_steel, -19},
               {stage_stop, 0}}},
};
const size_t demo_jobs_base_count = sizeof demo_jobs_base / sizeof *demo_jobs_base;
