"""Alternative objects: ten coefficients, the joined correlation, late flashing, void models."""

import math
from dataclasses import replace

import numpy as np
import pytest

from coldwright.circuit.records import CapillaryKind, CompressorKind, FlashKind, VoidKind
from coldwright.circuit.vector import pack_circuit
from coldwright.cycle.capillary import flashing
from coldwright.cycle.capillary.flow import capillary_flow, subcooled_inlet
from coldwright.cycle.capillary.generalised_flow import generalised_flow
from coldwright.cycle.capillary.records import CapillaryTube
from coldwright.cycle.compressor import polynomial as compressor_map
from coldwright.cycle.compressor.fit import fit_polynomial, terms, with_polynomial
from coldwright.cycle.compressor.physical import compress
from coldwright.cycle.medium import medium
from coldwright.cycle.model_choice import ModelChoice
from coldwright.cycle.ranges import outside_ranges
from coldwright.cycle.solver.running import Status, solve_running
from coldwright.cycle.void import VOID_MODELS
from coldwright.errors import BadInput, OutOfRange
from coldwright.refrigerant.kernels import vapour
from coldwright.refrigerant.saturation import saturation_all, saturation_pressure
from coldwright.refrigerant.tables import load_tables
from coldwright.usecases.capillary import correlation
from coldwright.usecases.simulate import simulate
from tests.physics.circuits import example, names, settled_room

KELVIN = 273.15


def run(circuit, room_k=298.15):
    return solve_running(circuit, settled_room(room_k), settled=True)


# -- ten coefficients --
def test_a_fit_recovers_coefficients_made_up():
    # EN 12900 / AHRI 540: the form itself, against numpy's own least squares of a made-up field.
    rng = np.random.default_rng(3)
    made_up = rng.normal(size=10)
    e, c = rng.uniform(-35.0, -10.0, 80), rng.uniform(30.0, 60.0, 80)
    field = sum(
        a * t
        for a, t in zip(
            made_up,
            (1.0, e, c, e * e, e * c, c * c, e**3, c * e * e, e * c * c, c**3),
            strict=True,
        )
    )
    found = np.linalg.lstsq(terms(e, c), field, rcond=None)[0]
    assert found == pytest.approx(made_up, rel=1e-6)


@pytest.mark.parametrize("name", names("plain_*"))
@pytest.mark.parametrize("room_k", [289.15, 308.15])
def test_ten_coefficients_of_a_compressor_give_its_running_state(name, room_k):
    shipped = example(name)
    fit = fit_polynomial(shipped.circuit)
    assert fit.worst_flow_fraction < 2e-3
    assert fit.worst_power_fraction < 3e-3
    own = run(shipped.circuit, room_k).state
    read = run(with_polynomial(shipped.circuit, fit.polynomial), room_k)
    assert read.status is Status.SOLVED
    assert read.residual < 1e-6
    # Stated tolerance (docs/physics.md): the gas is rated at 32 °C, and so is the room.
    assert read.state.mass_flow_kg_s == pytest.approx(own.mass_flow_kg_s, rel=0.006)
    assert read.state.compressor_power_w == pytest.approx(own.compressor_power_w, rel=0.015)
    assert read.state.evaporating_k == pytest.approx(own.evaporating_k, abs=0.2)
    assert read.state.condensing_k == pytest.approx(own.condensing_k, abs=0.2)
    assert read.state.discharge_line_k == pytest.approx(own.discharge_line_k, abs=0.7)


def rating_point(shipped, te, tc, gas_k):
    med = medium(shipped.job.plate.refrigerant)
    row = pack_circuit(with_polynomial(shipped.circuit, fit_polynomial(shipped.circuit)
                                       .polynomial))[0]  # fmt: skip
    low, high = (saturation_pressure(med.tables, t + KELVIN) for t in (te, tc))
    h = vapour(med.tables, low, gas_k)[0]
    return med, row, low, high, h


@pytest.mark.parametrize(("te", "tc"), [(-25.0, 45.0), (-34.0, 32.0), (-12.0, 58.0)])
def test_at_a_rating_point_the_polynomial_is_read_as_it_stands(te, tc):
    shipped = example("plain_static_fan")
    med, row, low, high, h = rating_point(shipped, te, tc, 305.35)
    got = compressor_map.compress_by_polynomial(med, row, low, high, h, 305.35, 0.0, 0.0)
    p = with_polynomial(shipped.circuit, fit_polynomial(shipped.circuit).polynomial)
    by_hand = [
        sum(
            getattr(p.compressor_polynomial, f"{which}_c{i + 1}_number") * t
            for i, t in enumerate(terms(np.array([te]), np.array([tc]))[0])
        )
        for which in ("flow", "power")
    ]
    assert 3600.0 * got[0] == pytest.approx(by_hand[0], rel=1e-9)
    assert got[1] == pytest.approx(by_hand[1], rel=1e-9)
    # Energy of the whole shell closes, whatever gave flow and power
    assert got[0] * (got[4] - got[2]) + got[7] == pytest.approx(got[1], rel=1e-12)


def test_colder_gas_is_pumped_as_the_physical_compressor_pumps_it():
    # Dabiri & Rice (1981, from memory): three quarters of the density's change arrive.
    shipped = example("plain_static_fan")
    med, row, low, high, h = rating_point(shipped, -25.0, 45.0, 273.15)
    read = compressor_map.compress_by_polynomial(med, row, low, high, h, 305.35, 0.0, 0.0)
    own = compress(med, row, low, high, h, 305.35, 0.0, 0.0)
    assert read[0] == pytest.approx(own[0], rel=0.02)
    assert read[1] == pytest.approx(own[1], rel=0.025)
    assert read[6] == pytest.approx(own[6], abs=1.0)


def test_flow_and_power_go_on_without_a_step_where_the_range_ends():
    shipped = example("plain_static_fan")
    med, row, *_ = rating_point(shipped, -25.0, 45.0, 305.35)
    found = []
    for te in (-35.0 - 1e-6, -35.0 + 1e-6, -45.0, -60.0):
        low, high = (saturation_pressure(med.tables, t + KELVIN) for t in (te, 45.0))
        h = vapour(med.tables, low, 305.35)[0]
        found.append(
            compressor_map.compress_by_polynomial(med, row, low, high, h, 305.35, 0.0, 0.0)
        )
    assert found[0][0] == pytest.approx(found[1][0], rel=1e-5)
    assert found[0][1] == pytest.approx(found[1][1], rel=1e-5)
    assert found[1][0] > found[2][0] > found[3][0] > 0.0


@pytest.mark.parametrize("fault", [("undercharge", 0.35), ("capillary_blocked", math.nan),
                                   ("weak_compressor", 0.5), ("overcharge", 1.4)])  # fmt: skip
def test_faults_show_as_they_do_with_the_physical_compressor(fault):
    job = example("plain_static_fan").job
    own = simulate(job, faults=(fault,)).running
    read = simulate(job, faults=(fault,), choice=ModelChoice(fitted=True))
    assert read.running.status_code == own.status_code
    assert read.running.evaporating_k == pytest.approx(own.evaporating_k, abs=1.5)
    assert read.running.compressor_power_w == pytest.approx(own.compressor_power_w, rel=0.06)


def test_a_fit_is_refused_where_its_field_is_upside_down():
    shipped = example("plain_static_fan")
    with pytest.raises(OutOfRange, match="least evaporating"):
        fit_polynomial(shipped.circuit, evaporating=(263.15, 238.15))


# -- capillary --
@pytest.mark.parametrize("gas", ["R134a", "R600a", "R22"])
@pytest.mark.parametrize("subcooling", [2.0, 8.0, 15.0])
def test_the_correlation_in_the_circuit_is_the_correlation(gas, subcooling):
    tables = load_tables(gas)
    p = saturation_pressure(tables, 318.15)
    inlet = subcooled_inlet(tables, p, subcooling)
    beside = correlation(tables, inlet, 0.7e-3, 2.8, gas)
    assert beside is not None
    got = generalised_flow(tables, p, inlet.enthalpy_j_kg, 0.7e-3, 2.8)
    assert got == pytest.approx(beside.mass_flow_kg_s, rel=1e-6)


def test_its_branches_are_joined_without_a_step():
    tables = load_tables("R134a")
    p = saturation_pressure(tables, 318.15)
    s = saturation_all(tables, p)
    h = s[1] + np.linspace(-0.03, 0.06, 400) * (s[2] - s[1])
    flow = np.array([generalised_flow(tables, p, x, 0.7e-3, 2.8) for x in h])
    assert np.all(np.diff(flow) < 0.0)
    assert np.max(np.abs(np.diff(np.log(flow)))) < 0.02


@pytest.mark.parametrize("name", ["plain_static_fan", "plain_skin_fan", "oil_cooler"])
def test_a_circuit_on_the_correlation_passes_its_flow(name):
    shipped = example(name)
    models = replace(shipped.circuit.models, capillary_code=float(CapillaryKind.GENERALISED))
    found = run(replace(shipped.circuit, models=models))
    assert found.residual < 1e-6
    s, cap = found.state, shipped.circuit.capillary
    tables = load_tables(shipped.job.plate.refrigerant)
    k = shipped.circuit.drier.loss_coefficient_1_m4
    loss = k * s.mass_flow_kg_s**2 / 550.0  # some millibar; the liquid's density hardly matters
    expected = generalised_flow(
        tables, s.condensing_pressure_pa - loss, s.enthalpy_condenser_out_j_kg, cap.bore_m,
        cap.length_m,
    )  # fmt: skip
    assert s.mass_flow_kg_s == pytest.approx(expected, rel=2e-3)


def test_metastable_liquid_by_hand():
    # Chen et al. (1990, from memory) for R12 at 35 °C, 0.66 mm, Re 10^4, 5 K: each group worked
    # out on paper with CoolProp's surface tension and volumes.
    tables = load_tables("R12")
    p = saturation_pressure(tables, 308.15)
    s = saturation_all(tables, p)
    bore, flux = 0.66e-3, 1e4 * s[5] / 0.66e-3
    kt = 1.380649e-23 * 308.15
    d_star = math.sqrt(kt / s[13]) * 1e4
    right = (
        0.679 * s[4] / (s[4] - s[3]) * 1e4**0.914 * (5.0 / 385.12) ** -0.208
        * (bore / d_star) ** -3.18
    )  # fmt: skip
    by_hand = right * s[13] ** 1.5 / math.sqrt(kt)
    got = flashing.under_pressure(tables, p, flux, bore, 5.0)
    assert got == pytest.approx(by_hand, rel=1e-3)
    assert 2e4 < got < 1.5e5  # tenths of a bar, as papers on the subject have it (from memory)
    assert flashing.under_pressure(tables, p, flux, bore, 0.0) == 0.0


def test_a_tube_that_flashes_late_passes_more_and_is_liquid_for_longer():
    # Metastability raises the flow: Huerta, Fiorelli & Silvares 2007 and others (abstracts).
    tables = load_tables("R134a")
    inlet = subcooled_inlet(tables, saturation_pressure(tables, 318.15), 5.0)
    at_once, late = (
        capillary_flow(
            tables,
            inlet,
            tube=CapillaryTube(0.8e-3, 5e-7, 0.5, share),
            length=3.0,
            evaporating=248.15,
        )
        for share in (0.0, 1.0)
    )
    assert 1.0 < late.mass_flow_kg_s / at_once.mass_flow_kg_s < 1.15
    assert late.length_liquid_m > at_once.length_liquid_m


def test_a_circuit_that_flashes_late_closes():
    shipped = example("plain_static_plate")
    models = replace(shipped.circuit.models, flashing_code=float(FlashKind.DELAYED))
    late = run(replace(shipped.circuit, models=models))
    own = run(shipped.circuit)
    assert late.residual < 1e-6
    assert late.state.mass_flow_kg_s >= own.state.mass_flow_kg_s * (1.0 - 1e-6)


# -- chosen and named --
def test_the_void_kinds_are_the_void_models():
    assert [m.code for m in VOID_MODELS] == [int(k) for k in VoidKind]
    for model, kind in zip(VOID_MODELS, VoidKind, strict=True):
        assert kind.name.lower() in model.name.lower().replace("-", " ")


@pytest.mark.parametrize(
    ("choice", "says"),
    [
        (ModelChoice(), "capillary: homogeneous march"),
        (ModelChoice(void_fraction=VoidKind.ZIVI), "void fraction: Zivi"),
        (ModelChoice(capillary=CapillaryKind.GENERALISED), "Wolf, Bittle & Pate (1995"),
        (ModelChoice(flashing=FlashKind.DELAYED), "Chen et al. (1990)"),
        (ModelChoice(fitted=True), "compressor: ten coefficients"),
    ],
)
def test_what_stands_in_the_circuit_is_named(choice, says):
    found = simulate(example("plain_static_fan").job, choice=choice)
    assert found.chosen == choice
    assert sum(says in model for model in found.models) == 1


def test_the_models_change_the_answer():
    job = example("plain_static_fan").job
    own = simulate(job).running
    zivi = simulate(job, choice=ModelChoice(void_fraction=VoidKind.ZIVI)).running
    assert zivi.charge_evaporator_kg != pytest.approx(own.charge_evaporator_kg, rel=0.01)


def test_the_file_alone_may_choose():
    found = simulate(example("ten_coefficients").job)
    assert any(model.startswith("compressor: ten coefficients") for model in found.models)
    as_built = simulate(
        example("ten_coefficients").job, choice=ModelChoice(compressor=CompressorKind.PHYSICAL)
    )
    assert found.running.mass_flow_kg_s == pytest.approx(as_built.running.mass_flow_kg_s, rel=0.006)


def test_ten_coefficients_that_are_not_there_are_refused_by_name():
    job = example("plain_static_fan").job
    with pytest.raises(BadInput, match=r"circuit\.models\.compressor.*without its coefficients"):
        simulate(job, choice=ModelChoice(compressor=CompressorKind.POLYNOMIAL))


# -- outside its range --
def beyond(found):
    return {(one.model.split(",")[0], one.quantity) for one in found.outside}


def test_a_state_beyond_the_ten_coefficients_is_told():
    job = example("ten_coefficients").job
    assert ("compressor", "evaporating temperature") not in beyond(simulate(job))
    starved = simulate(job, faults=(("undercharge", 0.3),))
    assert starved.running.evaporating_k < 238.15
    (one,) = (o for o in starved.outside if o.quantity == "evaporating temperature")
    assert one.value == starved.running.evaporating_k
    assert (one.low, one.high, one.unit) == (238.15, 263.15, "K")


def test_correlations_beyond_their_data_are_told():
    found = simulate(example("plain_static_fan").job)
    # Shah's tubes were 7 to 40 mm: a household condenser is narrower
    assert ("condensing inside", "bore of the condenser") in beyond(found)
    late = simulate(example("plain_skin_fan").job, choice=ModelChoice(flashing=FlashKind.DELAYED))
    assert any("R600a" in one.quantity for one in late.outside)
    guess = simulate(
        example("plain_skin_fan").job, choice=ModelChoice(capillary=CapillaryKind.GENERALISED)
    )
    assert any("R600a" in one.quantity for one in guess.outside)


def test_a_state_at_the_tables_end_is_told():
    shipped = example("plain_static_fan")
    found = simulate(shipped.job, faults=(("condenser_air", 0.4),))
    hot = replace(found.running, condensing_pressure_pa=4e6)
    told = outside_ranges(shipped.circuit, hot)
    assert ("property tables", "discharge pressure") in {(o.model, o.quantity) for o in told}


def test_nothing_flows_nothing_is_asked():
    found = simulate(example("plain_static_fan").job, faults=(("capillary_blocked", math.nan),))
    assert found.outside == ()
