/* SPDX-License-Identifier: MIT */
/*
 * Quantities of fresh and young concrete. Constants on which publications disagree (datum, Q,
 * reference, s, a, b) have no default: a figure without them means nothing.
 */
#include <math.h>
#include <stdbool.h>

#include "cli/calc_evaluate.h"
#include "cli/calc_keys.h"
#include "compute/evaporation.h"
#include "compute/maturity.h"
#include "compute/strength.h"

#include "base/banned.h"

/* --- maturity ------------------------------------------------------------------------------ */

#define TEMPS                                                                                      \
    {                                                                                              \
        .name = "temps_degc", .unit = "degC", .says = "temperatures, each ruling one step",        \
        .kind = CALC_KEY_LIST, .least = MATURITY_TEMP_MIN_DEGC, .most = MATURITY_TEMP_MAX_DEGC,    \
        .required = true                                                                           \
    }
#define STEP NUMBER_ABOVE("step_h", "h", 0.0, MATURITY_STEP_MAX_H, true, "length of a step")

static const char out_of_calibration[] = "a temperature lies outside 0..40 degC";

static const struct calc_key temperature_time_keys[] = {
    TEMPS,
    STEP,
    NUMBER("datum_degc", "degC", MATURITY_TEMP_MIN_DEGC, MATURITY_TEMP_MAX_DEGC, true, "datum T0"),
    CHOICE("clamp", "0|1", false, "1: a step below the datum counts 0, not negative"),
};

static enum calc_outcome temperature_time(const struct calc_call *call, struct calc_result *out)
{
    int status = maturity_temperature_time(
        call->list, call->list_count, calc_value(call, "step_h", NAN),
        calc_value(call, "datum_degc", NAN), calc_value(call, "clamp", 0.0) > 0.0, out->figures);
    out->source = "astm-c1074";
    out->clause = "eq. 1";
    if (status > 0) out->caution = out_of_calibration;
    return calc_took(call, status);
}

const struct calc_quantity calc_temperature_time_factor = {.name = "temperature-time-factor",
                                                           .unit = "degC.h",
                                                           KEYS(temperature_time_keys),
                                                           .says = "sum of (T - T0) dt, uncut",
                                                           .evaluate = temperature_time};

static const struct calc_key equivalent_age_keys[] = {
    TEMPS,
    STEP,
    NUMBER_ABOVE("q_k", "K", 0.0, 50000.0, false, "Q = Ea/R; this or ea_kj"),
    NUMBER_ABOVE("ea_kj", "kJ/mol", 0.0, 400.0, false, "activation energy, R = 8.314 J/(mol K)"),
    NUMBER("reference_degc", "degC", MATURITY_TEMP_MIN_DEGC, MATURITY_TEMP_MAX_DEGC, true,
           "reference temperature"),
};

static enum calc_outcome equivalent_age(const struct calc_call *call, struct calc_result *out)
{
    if (calc_given(call, "q_k") && calc_given(call, "ea_kj"))
        return calc_refuse_key(call, "ea_kj", "q_k= or ea_kj=, not both");
    if (!calc_given(call, "q_k") && !calc_given(call, "ea_kj"))
        return calc_refuse_key(call, "q_k", "q_k= or ea_kj=");
    double from_energy_k = calc_value(call, "ea_kj", NAN) * 1000.0 / MATURITY_GAS_CONSTANT_JMOLK;
    int status =
        maturity_equivalent_age(call->list, call->list_count, calc_value(call, "step_h", NAN),
                                calc_value(call, "q_k", from_energy_k),
                                calc_value(call, "reference_degc", NAN), out->figures);
    out->source = "astm-c1074";
    out->clause = "eq. 2";
    if (status > 0) out->caution = out_of_calibration;
    return calc_took(call, status);
}

const struct calc_quantity calc_equivalent_age = {.name = "equivalent-age",
                                                  .unit = "h",
                                                  KEYS(equivalent_age_keys),
                                                  .says = "sum of exp(-Q (1/Ta - 1/Tr)) dt",
                                                  .evaluate = equivalent_age};

static const struct calc_key annex_b_keys[] = {TEMPS, STEP};

static enum calc_outcome annex_b_age(const struct calc_call *call, struct calc_result *out)
{
    int status = maturity_annex_b_age(call->list, call->list_count, calc_value(call, "step_h", NAN),
                                      out->figures);
    out->source = "en-1992-1-1";
    out->clause = "eq. B.10";
    if (status > 0) out->caution = out_of_calibration;
    return calc_took(call, status);
}

const struct calc_quantity calc_annex_b_age = {.name = "annex-b-age",
                                               .unit = "h",
                                               KEYS(annex_b_keys),
                                               .says = "sum of exp(-(4000/(273 + T) - 13.65)) dt",
                                               .evaluate = annex_b_age};

/* --- strength ------------------------------------------------------------------------------ */

enum { LAW_EN1992, LAW_ACI209 };

static const struct calc_key strength_keys[] = {
    CHOICE("law", "en1992|aci209", true, "which published law"),
    NUMBER_ABOVE("age_d", "d", 0.0, STRENGTH_AGE_MAX_D, true, "age"),
    NUMBER("s", "", 0.0, 1.0, false, "en1992: 0.20 class R, 0.25 N, 0.38 S"),
    NUMBER_ABOVE("a", "d", 0.0, 100.0, false, "aci209: 4 for Type I moist cured"),
    NUMBER_ABOVE("b", "", 0.0, 10.0, false, "aci209: 0.85 for Type I moist cured"),
};

static enum calc_outcome strength_ratio(const struct calc_call *call, struct calc_result *out)
{
    bool en1992 = calc_value(call, "law", NAN) == LAW_EN1992;
    const char *needed[2] = {en1992 ? "s" : "a", en1992 ? "s" : "b"};
    const char *barred[2] = {en1992 ? "a" : "s", en1992 ? "b" : "s"};
    for (int i = 0; i < 2; i++) {
        if (!calc_given(call, needed[i]))
            return calc_refuse_key(call, needed[i],
                                   en1992 ? "s= with law=en1992" : "a= and b= with law=aci209");
        if (calc_given(call, barred[i]))
            return calc_refuse_key(call, barred[i],
                                   en1992 ? "only s= with law=en1992"
                                          : "only a= and b= with law=aci209");
    }
    double age_d = calc_value(call, "age_d", NAN);
    int status = en1992 ? strength_ratio_en1992(age_d, calc_value(call, "s", NAN), out->figures)
                        : strength_ratio_aci209(age_d, calc_value(call, "a", NAN),
                                                calc_value(call, "b", NAN), out->figures);
    out->source = en1992 ? "en-1992-1-1" : "aci-209r";
    out->clause = en1992 ? "eq. 3.2" : "eq. 2-1";
    out->basis = "standard curing in a laboratory; says nothing about any concrete on a job";
    if (status > 0)
        out->caution = en1992 ? "younger than 3 d: the law was not fitted there"
                              : "younger than 1 d: the law was not fitted there";
    return calc_took(call, status);
}

const struct calc_quantity calc_strength_ratio = {
    .name = "strength-ratio",
    .unit = "1",
    KEYS(strength_keys),
    .says = "published strength with age over strength at 28 d; reference only",
    .evaluate = strength_ratio};

/* --- evaporation --------------------------------------------------------------------------- */

enum { FORM_UNO, FORM_MENZEL, FORM_UNO_EXACT };

static const struct calc_key evaporation_keys[] = {
    NUMBER("concrete_degc", "degC", EVAPORATION_TEMP_MIN_DEGC, EVAPORATION_TEMP_MAX_DEGC, true,
           "concrete at its face"),
    NUMBER("air_degc", "degC", EVAPORATION_TEMP_MIN_DEGC, EVAPORATION_TEMP_MAX_DEGC, true, "air"),
    NUMBER("rh_pct", "%", 0.0, 100.0, true, "relative humidity of the air"),
    NUMBER("wind_kmh", "km/h", 0.0, EVAPORATION_WIND_MAX_KMH, true, "wind 0.5 m above the slab"),
    CHOICE("form", "uno|menzel|uno-exact", false,
           "uno (default) has the rounded metric constants 5, 18, 4; uno-exact converts exactly"),
};

static enum calc_outcome evaporation(const struct calc_call *call, struct calc_result *out)
{
    static const char *const bases[] = {
        "single expression, rounded metric constants 5, 18, 4",
        "vapour pressures, metric constants 0.315, 0.253, 0.060",
        "single expression, customary constants converted exactly",
    };
    double concrete_degc = calc_value(call, "concrete_degc", NAN);
    double air_degc = calc_value(call, "air_degc", NAN);
    double rh_frac = calc_value(call, "rh_pct", NAN) / 100.0;
    double wind_kmh = calc_value(call, "wind_kmh", NAN);
    int form = (int)calc_value(call, "form", FORM_UNO);
    int status;
    if (form == FORM_MENZEL)
        status = evaporation_menzel(concrete_degc, air_degc, rh_frac, wind_kmh, out->figures);
    else if (form == FORM_UNO_EXACT)
        status = evaporation_uno_exact(concrete_degc, air_degc, rh_frac, wind_kmh, out->figures);
    else
        status = evaporation_uno(concrete_degc, air_degc, rh_frac, wind_kmh, out->figures);
    out->source = form == FORM_MENZEL ? "menzel-1954" : "uno-1998";
    out->basis = bases[form];
    if (status > 0) out->caution = "negative: water settles on the face";
    return calc_took(call, status);
}

const struct calc_quantity calc_evaporation = {
    .name = "evaporation",
    .unit = "kg/m2/h",
    KEYS(evaporation_keys),
    .says = "evaporation from fresh concrete; a screen, 40 % either way",
    .evaluate = evaporation};
