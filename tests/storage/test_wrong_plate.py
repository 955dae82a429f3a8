"""A plate value that fits no appliance is named; numbers that are no statement are refused."""

import pytest

from coldwright.errors import BadInput
from coldwright.readings.jobfile import job_from_text
from coldwright.usecases.diagnose import diagnose

PLATE = """
[plate]
kind = "bottom_mount"
refrigerant = "R134a"
charge = "110 g"
[circuit]
condenser = "fan"
displacement = "20 cm3"
[room]
temperature = "25 °C"
"""
READ = '[readings]\nappliance_power = "120 W"\nsuction_line_temperature = "20 °C"\n'


@pytest.mark.slow
@pytest.mark.filterwarnings("error")
@pytest.mark.parametrize("more", ["", READ])
def test_a_wrong_displacement_is_named(more):
    found = diagnose(job_from_text(PLATE + more, "w.toml"), members=300)
    assert found.refused is not None
    assert "circuit.displacement 20.0 cm3" in found.refused
    assert "that fit the rest have 2" in found.refused
    assert found.faults == ()
    assert not found.open_circuit_advised


@pytest.mark.slow
def test_the_same_plate_with_its_displacement_right_is_answered():
    text = PLATE.replace("20 cm3", "6.5 cm3")
    found = diagnose(job_from_text(text, "w.toml"), members=300, refine=False)
    assert found.refused is None
    assert sum(f.probability for f in found.faults) == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("kind", "key", "value", "accepted"),
    [
        ("compact", "displacement", "20 cm3", "at most 15 cm3 on a compact"),
        ("top_mount", "displacement", "90 cm3", "at most 30 cm3 on a top mount"),
    ],
)
def test_what_no_appliance_of_the_kind_has_is_refused(kind, key, value, accepted):
    with pytest.raises(BadInput, match=f"circuit.{key}") as refused:
        job_from_text(f'[plate]\nkind = "{kind}"\n[circuit]\n{key} = "{value}"\n', "w.toml")
    assert refused.value.accepted == accepted


@pytest.mark.parametrize("said", ["1e155 K", "400 K", "1e-155 K", "0 K", "nan K"])
def test_an_uncertainty_that_says_nothing_is_refused(said):
    text = (
        '[plate]\nkind = "compact"\n[readings]\n'
        f'shell_temperature = {{ value = "60 °C", uncertainty = "{said}" }}\n'
    )
    with pytest.raises(BadInput, match=r"readings\.shell_temperature\.uncertainty"):
        job_from_text(text, "w.toml")


def test_an_uncertainty_of_a_kelvin_is_taken():
    text = (
        '[plate]\nkind = "compact"\n[readings]\n'
        'shell_temperature = { value = "60 °C", uncertainty = "1 K" }\n'
    )
    assert job_from_text(text, "w.toml").readings[0].sd == 1.0
