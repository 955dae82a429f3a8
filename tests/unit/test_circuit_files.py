"""A circuit as TOML: keys from the records, exact round trip, every slip named."""

import dataclasses
import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from coldwright.circuit import records
from coldwright.circuit.fields import optional_segments
from coldwright.circuit.files import (
    circuit_from_geometry,
    circuit_to_toml,
    circuit_with,
    geometry_keys,
    geometry_kinds,
    geometry_of,
    is_complete,
    parse_geometry,
    parse_geometry_value,
)
from coldwright.errors import BadInput
from coldwright.readings.jobfile import job_from_text
from coldwright.units import Dimension as D

# Invented: a small refrigerator's circuit of ordinary proportions.
CIRCUIT = records.Circuit(
    refrigerant="R134a",
    compressor=records.Compressor(
        displacement_m3=6.6e-6,
        speed_1_s=49.0,
        clearance_fraction=0.03,
        reexpansion_exponent=1.1,
        flow_factor_fraction=1.0,
        leak_work_share_fraction=0.3,
        indicated_efficiency_fraction=0.8,
        motor_efficiency_fraction=0.78,
        idle_power_w=18.0,
        suction_conductance_w_k=0.9,
        discharge_conductance_w_k=0.4,
        shell_conductance_w_k=2.1,
        shell_volume_m3=1.9e-3,
        oil_mass_kg=0.21,
        power_factor_fraction=0.75,
    ),
    discharge_line=records.DischargeLine(conductance_w_k=0.1, volume_m3=1.5e-5),
    condenser=records.Condenser(
        kind_code=float(records.CondenserKind.STATIC),
        tube_length_m=11.0,
        tube_bore_m=3.36e-3,
        volume_m3=9.7e-5,
        area_m2=0.85,
        height_m=1.1,
        tube_diameter_m=4.76e-3,
        wire_diameter_m=1.5e-3,
        tube_pitch_m=0.05,
        wire_pitch_m=5.5e-3,
        emissivity_fraction=0.9,
        surface_efficiency_fraction=0.88,
        fan_coefficient_w_m2_k=0.0,
        air_capacity_w_k=0.0,
        inward_conductance_w_k=0.0,
        air_factor_fraction=1.0,
        first_section_fraction=0.3,
    ),
    oil_cooler=records.OilCooler(4.0, 1.5, 3.36e-3),
    frame_loop=records.FrameLoop(
        float(records.Position.AFTER_CONDENSER), 6.5, 3.36e-3, 2.0, 1.95, 0.33, 0.35
    ),
    drain_pan_loop=records.DrainPanLoop(
        float(records.Position.BEFORE_CONDENSER), 1.2, 3.36e-3, 0.5, 0.05
    ),
    drier=records.Drier(volume_m3=1.2e-5, loss_coefficient_1_m4=3e9),
    capillary=records.Capillary(
        bore_m=0.66e-3,
        length_m=2.9,
        roughness_m=1.5e-6,
        entrance_loss_fraction=1.5,
        inlet_length_m=0.6,
        bonded_length_m=1.8,
        bond_conductance_w_m_k=12.0,
        stretch_bore_m=0.66e-3,
        stretch_length_m=0.0,
    ),
    evaporator=records.Evaporator(
        kind_code=float(records.EvaporatorKind.FAN),
        tube_length_m=9.0,
        tube_bore_m=6.5e-3,
        volume_m3=3.0e-4,
        area_m2=1.9,
        height_m=0.2,
        emissivity_fraction=0.1,
        surface_efficiency_fraction=0.8,
        fan_coefficient_w_m2_k=16.0,
        frost_resistance_k_w=0.01,
        air_factor_fraction=1.0,
    ),
    accumulator=records.Accumulator(volume_m3=1.2e-4, half_full_wetness_fraction=0.05),
    suction_line=records.SuctionLine(bore_m=6e-3, length_m=2.2, room_conductance_w_k=0.1),
    cabinet=records.Cabinet(
        fresh_food_conductance_w_k=1.1,
        freezer_conductance_w_k=0.6,
        fresh_food_set_k=277.15,
        freezer_set_k=255.15,
        air_share_fraction=0.15,
        air_capacity_w_k=18.0,
        heater_power_w=6.0,
        opening_power_w=8.0,
        evaporator_fan_power_w=7.0,
        condenser_fan_power_w=0.0,
        controls_power_w=2.0,
    ),
    charge_kg=0.14,
)


PLAIN = dataclasses.replace(
    CIRCUIT,
    condenser=dataclasses.replace(CIRCUIT.condenser, first_section_fraction=0.0),
    oil_cooler=records.OilCooler(),
    frame_loop=records.FrameLoop(),
    drain_pan_loop=records.DrainPanLoop(),
)
NEED_NOT_BE_GIVEN = {
    "condenser.first_section", "models.compressor", "models.capillary", "models.flashing",
    "models.void_fraction",
}  # fmt: skip
# Invented: flow 3.4 kg/h and 95 W at -25/45 °C
POLYNOMIAL = records.CompressorPolynomial(
    238.15, 263.15, 303.15, 333.15, 305.35, 1.0 / 3600.0,
    flow_c1_number=9.3, flow_c2_number=0.2, flow_c3_number=-0.02,
    power_c1_number=20.0, power_c2_number=-0.5, power_c3_number=1.4,
)  # fmt: skip
WITH_POLYNOMIAL = dataclasses.replace(
    PLAIN, compressor_polynomial=POLYNOMIAL, models=records.Models(compressor_code=1.0)
)


def back(text, charge_kg=CIRCUIT.charge_kg):
    tables = tomllib.loads(text)["circuit"]
    return circuit_from_geometry(parse_geometry(tables), charge_kg, "R134a")


def test_every_field_of_every_record_has_a_key_of_its_own():
    count = sum(
        len(dataclasses.fields(getattr(CIRCUIT, f.name)))
        for f in dataclasses.fields(CIRCUIT)
        if dataclasses.is_dataclass(getattr(CIRCUIT, f.name))
    )
    assert len(geometry_keys()) == count == len(geometry_of(CIRCUIT))


@pytest.mark.parametrize(
    ("key", "dimension"),
    [
        ("compressor.displacement", D.VOLUME),
        ("compressor.speed", D.ROTATIONAL_SPEED),
        ("compressor.reexpansion", D.NUMBER),
        ("compressor.oil_mass", D.MASS),
        ("compressor.idle_power", D.POWER),
        ("condenser.kind", D.KIND),
        ("condenser.area", D.AREA),
        ("condenser.fan_coefficient", D.HEAT_TRANSFER_COEFFICIENT),
        ("drier.loss_coefficient", D.LOSS_COEFFICIENT),
        ("capillary.bore", D.LENGTH),
        ("capillary.bond_conductance", D.CONDUCTANCE_PER_LENGTH),
        ("capillary.entrance_loss", D.FRACTION),
        ("evaporator.frost_resistance", D.THERMAL_RESISTANCE),
        ("suction_line.room_conductance", D.CONDUCTANCE),
        ("cabinet.freezer_set", D.TEMPERATURE),
        ("compressor_polynomial.flow_c10", D.NUMBER),
        ("models.void_fraction", D.KIND),
    ],
)
def test_the_suffix_tells_the_dimension(key, dimension):
    assert geometry_keys()[key] is dimension


def test_kinds_are_names():
    assert set(geometry_kinds()) == {k for k, d in geometry_keys().items() if d is D.KIND}
    assert parse_geometry_value("evaporator.kind", "cold_wall") == 1.0


def test_geometry_round_trip():
    assert circuit_from_geometry(geometry_of(CIRCUIT), 0.14, "R134a") == CIRCUIT


def test_toml_round_trip_is_exact():
    text = circuit_to_toml(CIRCUIT)
    assert 'bore = "0.66 mm"' in text
    assert 'kind = "static"' in text
    assert back(text) == CIRCUIT


def test_a_plain_circuit_has_no_tables_of_loops():
    text = circuit_to_toml(PLAIN)
    assert "loop" not in text
    assert "oil_cooler" not in text
    assert "first_section" not in text
    assert back(text) == PLAIN


def test_ten_coefficients_round_trip_and_are_used_where_nothing_else_is_said():
    text = circuit_to_toml(WITH_POLYNOMIAL)
    assert 'compressor = "polynomial"' in text
    assert back(text) == WITH_POLYNOMIAL
    unsaid = text.replace('[circuit.models]\ncompressor = "polynomial"\n', "")
    assert unsaid != text
    assert back(unsaid) == WITH_POLYNOMIAL


def test_coefficients_that_are_not_used_keep_the_choice_in_the_file():
    kept = dataclasses.replace(WITH_POLYNOMIAL, models=records.Models())
    assert 'compressor = "physical"' in circuit_to_toml(kept)
    assert back(circuit_to_toml(kept)) == kept


def test_a_model_is_a_name_and_each_may_be_left_out():
    text = circuit_to_toml(PLAIN) + '[circuit.models]\nvoid_fraction = "zivi"\n'
    assert back(text).models == records.Models(void_fraction_code=float(records.VoidKind.ZIVI))
    with pytest.raises(BadInput, match=r"models\.void_fraction.*one of premoli"):
        back(text.replace("zivi", "zivy"))


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"flow_unit_number": 0.0}, "without its coefficients"),
        ({"least_evaporating_k": 270.0}, "below most_evaporating"),
        ({"most_condensing_k": 290.0}, "below most_condensing"),
        ({"return_gas_k": 0.0}, "compressor_polynomial.return_gas"),
        ({"flow_c1_number": -9.0}, "a value above 0"),
        ({"power_c1_number": -90.0}, "a value above 0"),
        ({"flow_c4_number": 1e9}, "compressor_polynomial.flow_c4"),
    ],
)
def test_coefficients_that_cannot_be_are_refused(change, says):
    broken = dataclasses.replace(
        WITH_POLYNOMIAL, compressor_polynomial=dataclasses.replace(POLYNOMIAL, **change)
    )
    with pytest.raises(BadInput, match=says):
        circuit_from_geometry(geometry_of(broken), 0.14, "R134a")


def test_a_condenser_in_the_wall_needs_that_wall():
    skin = dataclasses.replace(PLAIN.condenser, kind_code=float(records.CondenserKind.SKIN))
    buried = dataclasses.replace(PLAIN, condenser=skin)
    with pytest.raises(BadInput, match=r"condenser\.inward_conductance.*cabinet's wall"):
        circuit_from_geometry(geometry_of(buried), 0.14, "R134a")
    walled = dataclasses.replace(skin, inward_conductance_w_k=0.6)
    assert (
        circuit_from_geometry(
            geometry_of(dataclasses.replace(PLAIN, condenser=walled)), 0.14, "R134a"
        ).condenser
        == walled
    )


def test_a_circuit_is_complete_without_the_tables_it_may_lack():
    tables = tomllib.loads(circuit_to_toml(PLAIN))["circuit"]
    given = [key for key, _ in parse_geometry(tables)]
    assert is_complete(given)
    assert not is_complete([key for key in given if key != "capillary.bore"])
    assert not is_complete([])


@given(st.floats(1e-4, 3e-3), st.floats(0.1, 20.0), st.floats(200.0, 300.0), st.floats(0.0, 1.0))
def test_toml_round_trip_is_exact_for_any_float(bore, length, freezer, emissivity):
    circuit = dataclasses.replace(
        CIRCUIT,
        capillary=dataclasses.replace(
            CIRCUIT.capillary, bore_m=bore, length_m=length + 2.4, stretch_bore_m=bore
        ),
        cabinet=dataclasses.replace(CIRCUIT.cabinet, freezer_set_k=freezer),
        condenser=dataclasses.replace(CIRCUIT.condenser, emissivity_fraction=emissivity),
    )
    assert back(circuit_to_toml(circuit)) == circuit


def test_a_job_file_may_hold_the_whole_circuit():
    plate = '[plate]\nkind = "top_mount"\nrefrigerant = "R134a"\ncharge = "140 g"\n'
    job = job_from_text(plate + circuit_to_toml(CIRCUIT), "circuit.toml")
    assert circuit_from_geometry(job.circuit.geometry, job.plate.charge_kg, "R134a") == CIRCUIT
    assert (job.circuit.condenser, job.circuit.evaporator) == ("static", "fan")
    assert job.circuit.displacement_m3 == CIRCUIT.compressor.displacement_m3


def test_one_value_changed():
    changed = circuit_with(CIRCUIT, "capillary.bore", 0.7e-3)
    assert changed.capillary.bore_m == 0.7e-3
    assert dict(geometry_of(changed)) == dict(geometry_of(CIRCUIT)) | {"capillary.bore": 0.7e-3}
    with pytest.raises(BadInput, match=r"capillary\.boar.*did you mean capillary\.bore"):
        circuit_with(CIRCUIT, "capillary.boar", 0.7e-3)


@pytest.mark.parametrize("key", [k for k in geometry_keys() if k not in NEED_NOT_BE_GIVEN])
def test_every_key_is_needed_and_named_when_missing(key):
    rest = [(k, v) for k, v in geometry_of(CIRCUIT) if k != key]
    with pytest.raises(BadInput) as caught:
        circuit_from_geometry(rest, 0.14, "R134a", file="circuit.toml")
    assert str(caught.value).startswith(f"circuit.toml: circuit.{key}: read nothing;")


def test_missing_keys_are_counted():
    loops = sum(key.partition(".")[0] in optional_segments() for key in geometry_keys())
    alone = sum(key.partition(".")[0] not in optional_segments() for key in NEED_NOT_BE_GIVEN)
    needed = len(geometry_keys()) - loops - alone
    with pytest.raises(BadInput, match=rf"nothing \(and {needed - 1} more\)"):
        circuit_from_geometry((), 0.14, "R134a")


@pytest.mark.parametrize(
    ("key", "value", "says"),
    [
        ("capillary.length", -2.9, "above 0"),
        ("capillary.length", 0.0, "above 0"),
        ("capillary.bore", float("nan"), "nan"),
        ("capillary.bore", 4e-3, "a length below condenser.tube_bore, 3.36 mm"),
        ("condenser.tube_bore", 0.5e-3, "below condenser.tube_bore"),
        ("suction_line.bore", 0.5e-3, "below suction_line.bore"),
        ("capillary.roughness", 1e-3, "below capillary.bore"),
        ("capillary.bonded_length", 2.5, "at most capillary.length less capillary.inlet_length"),
        ("condenser.tube_diameter", 3e-3, "below condenser.tube_diameter"),
        ("condenser.emissivity", 1.2, "0 % up to 100 %"),
        ("compressor.clearance", -0.01, "0 %"),
        ("compressor.reexpansion", 0.5, "1.00 up to 2.00"),
        ("cabinet.freezer_set", 20.0, "-80.0 °C"),
        ("evaporator.kind", 7.0, "0 up to 2"),
        ("frame_loop.position", 3.0, "0 up to 2"),
        ("frame_loop.tube_bore", 0.5e-3, "below frame_loop.tube_bore"),
        ("frame_loop.room_conductance", 0.0, "above 0 where the loop is there"),
        ("frame_loop.bond_conductance", 0.0, "above 0 where the loop is there"),
        ("drain_pan_loop.tube_bore", 0.0, "below drain_pan_loop.tube_bore"),
        ("drain_pan_loop.room_conductance", 0.0, "above 0 where the loop is there"),
        ("oil_cooler.tube_length", 0.0, "above 0 where the loop is there"),
        ("condenser.first_section", 0.0, "above 0 and below 1 where an oil cooler"),
        ("cabinet.heater_power", float("inf"), "inf"),
    ],
)
def test_what_cannot_be_is_refused_by_name(key, value, says):
    with pytest.raises(BadInput) as caught:
        circuit_with(CIRCUIT, key, value, file="circuit.toml")
    message = str(caught.value)
    assert message.startswith("circuit.toml: circuit.")
    assert key.partition(".")[2] in message
    assert says in message
    assert "\n" not in message


def test_a_restricted_stretch_lies_within_the_capillary():
    longer = dict(geometry_of(CIRCUIT)) | {"capillary.stretch_length": 3.0}
    with pytest.raises(BadInput, match=r"at most capillary\.length"):
        circuit_from_geometry(longer.items(), 0.14, "R134a")
    wider = dict(geometry_of(CIRCUIT)) | {
        "capillary.stretch_length": 0.1,
        "capillary.stretch_bore": 0.8e-3,
    }
    with pytest.raises(BadInput, match=r"at most capillary\.bore"):
        circuit_from_geometry(wider.items(), 0.14, "R134a")


@pytest.mark.parametrize("charge", [-0.1, 9.0, float("nan")])
def test_the_charge_must_be_possible(charge):
    with pytest.raises(BadInput, match=r"plate\.charge"):
        circuit_from_geometry(geometry_of(CIRCUIT), charge, "R134a")


@pytest.mark.parametrize(
    ("tables", "says"),
    [
        ({"capillary": {"bore": "-0.66 mm"}}, "not below zero"),
        ({"capillary": {"bore": "0.66 g"}}, "'0.66 g', a mass; accepted: a length"),
        ({"capillary": {"bore": 0.66}}, "circuit.capillary.bore: read 0.66; accepted: a length"),
        ({"condenser": {"kind": "statik"}}, "did you mean static?"),
        ({"condenser": {"kind": 0}}, "one of static, skin, fan"),
        ({"condenser": {"emissivity": True}}, "read True"),
        ({"capillary": {"boar": "1 mm"}}, "did you mean bore?"),
        ({"evaporater": {}}, "did you mean evaporator?"),
    ],
)
def test_tables_refused(tables, says):
    with pytest.raises(BadInput) as caught:
        parse_geometry(tables, file="circuit.toml")
    assert says in str(caught.value)


def test_numbers_without_a_unit_may_be_plain():
    assert parse_geometry({"condenser": {"emissivity": 0.9}}) == (("condenser.emissivity", 0.9),)
    assert parse_geometry({"condenser": {"emissivity": "90 %"}}) == (("condenser.emissivity", 0.9),)


def test_the_page_on_circuit_files_has_every_key_in_its_table():
    page = (Path(__file__).parents[2] / "docs" / "circuit-file.md").read_text(encoding="utf-8")
    documented, segment = [], ""
    for line in page.splitlines():
        if line.startswith("## `[circuit."):
            segment = line.removeprefix("## `[circuit.").removesuffix("]`")
        elif line.startswith("| `"):
            documented.append(f"{segment}.{line.split('`')[1]}")
    assert documented == list(geometry_keys())
