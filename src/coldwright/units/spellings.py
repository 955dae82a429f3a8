"""How units are spelled, and what each spelling is worth in SI.

A spelling is compared after `squeeze` has removed spaces, dots, brackets and
multiplication signs, so ``W/(m K)``, ``W/(m·K)`` and ``W/mK`` are one.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Mapping
from types import MappingProxyType

from coldwright.units import formulas as f
from coldwright.units.dimensions import Dimension as D

_DROPPED = str.maketrans("", "", " .·⋅∙*()[]^")


def squeeze(unit: str) -> str:
    """The unit without what does not tell units apart.

    Parameters
    ----------
    unit : str
        As written.

    Returns
    -------
    str
        Without spaces and the like; letters keep their case.
    """
    plain = unicodedata.normalize("NFKC", unit.replace("º", "°"))
    return plain.replace("µ", "μ").replace("″", '"').translate(_DROPPED)


def _spell(**by_factor: tuple[float, str]) -> Mapping[str, float]:
    table: dict[str, float] = {}
    for factor, words in by_factor.values():
        table.update(dict.fromkeys(words.split(), factor))
    return MappingProxyType(table)


_LENGTH = _spell(
    m=(1.0, "m metre metres meter meters"),
    mm=(1e-3, "mm"),
    cm=(1e-2, "cm"),
    um=(1e-6, "μm um"),
    inch=(f.METRE_PER_INCH, "in inch inches \" ''"),
    foot=(f.METRE_PER_FOOT, "ft foot feet '"),
)

# Temperatures carry an offset and are handled in `parsing`; here the sizes of their degrees.
KELVIN, CELSIUS, FAHRENHEIT = "K", "C", "F"
DEGREES: Mapping[str, str] = MappingProxyType(
    dict.fromkeys("K kelvin kelvins °K degK".split(), KELVIN)
    | dict.fromkeys("C °C degC celsius degreesC degreesCelsius".split(), CELSIUS)
    | dict.fromkeys("F °F degF fahrenheit degreesF degreesFahrenheit".split(), FAHRENHEIT)
)

_PRESSURE = _spell(
    pa=(1.0, "Pa pascal pascals"),
    hpa=(1e2, "hPa mbar millibar"),
    kpa=(1e3, "kPa"),
    mpa=(1e6, "MPa"),
    bar=(1e5, "bar bars"),
    psi=(f.PASCAL_PER_PSI, "psi lbf/in2 lb/in2"),
    atm=(f.STANDARD_ATMOSPHERE_PA, "atm"),
    at=(98_066.5, "kgf/cm2 kg/cm2 kp/cm2"),
    inhg=(f.PASCAL_PER_INHG, 'inHg "Hg inchHg inchesHg'),
    mmhg=(f.PASCAL_PER_MMHG, "mmHg"),
    cmhg=(10.0 * f.PASCAL_PER_MMHG, "cmHg"),
    torr=(f.STANDARD_ATMOSPHERE_PA / 760.0, "Torr torr"),
    micron=(f.PASCAL_PER_MICRON, "micron microns μmHg umHg"),
)

FACTORS: Mapping[D, Mapping[str, float]] = MappingProxyType(
    {
        D.TEMPERATURE_DIFFERENCE: _spell(
            k=(1.0, "K kelvin kelvins degK °K C °C degC celsius"),
            f=(1.0 / 1.8, "F °F degF fahrenheit"),
        ),
        D.TEMPERATURE_RATE: _spell(
            ks=(1.0, "K/s °C/s C/s"),
            kmin=(1.0 / 60.0, "K/min °C/min C/min"),
            kh=(1.0 / 3600.0, "K/h K/hr °C/h °C/hr C/h C/hr"),
            fmin=(1.0 / 108.0, "°F/min F/min"),
            fh=(1.0 / 6480.0, "°F/h °F/hr F/h F/hr"),
        ),
        D.PRESSURE: _PRESSURE,
        D.PRESSURE_DIFFERENCE: _PRESSURE,
        D.MASS: _spell(
            kg=(1.0, "kg kilogram kilograms"),
            g=(1e-3, "g gr gram grams gramme grammes"),
            oz=(f.KILOGRAM_PER_OUNCE, "oz ounce ounces"),
            lb=(f.KILOGRAM_PER_POUND, "lb lbs pound pounds"),
        ),
        D.LENGTH: _LENGTH,
        D.ALTITUDE: _LENGTH,
        D.AREA: _spell(
            m2=(1.0, "m2 sqm"),
            dm2=(1e-2, "dm2"),
            cm2=(1e-4, "cm2 sqcm"),
            mm2=(1e-6, "mm2"),
            in2=(f.METRE_PER_INCH**2, "in2 sqin"),
            ft2=(f.METRE_PER_FOOT**2, "ft2 sqft"),
        ),
        D.VOLUME: _spell(
            m3=(1.0, "m3"),
            l=(1e-3, "l L dm3 litre litres liter liters"),
            cl=(1e-5, "cl cL"),
            cm3=(1e-6, "cm3 cc ccm ml mL"),
            mm3=(1e-9, "mm3"),
            ft3=(f.METRE_PER_FOOT**3, "cuft ft3 cubicfoot cubicfeet cubicft"),
            in3=(f.METRE_PER_INCH**3, "cuin in3 cubicinch cubicinches"),
        ),
        D.POWER: _spell(
            w=(1.0, "W watt watts"),
            kw=(1e3, "kW kilowatt kilowatts"),
            btu=(f.WATT_PER_BTU_H, "BTU/h BTUH BTU/hr Btu/h Btu/hr"),
            hp=(f.WATT_PER_HORSEPOWER, "hp HP horsepower"),
            metric=(f.WATT_PER_METRIC_HORSEPOWER, "PS CV ch"),
            kcal=(1.163, "kcal/h"),
        ),
        D.CURRENT: _spell(a=(1.0, "A amp amps ampere amperes"), ma=(1e-3, "mA")),
        D.VOLTAGE: _spell(v=(1.0, "V volt volts Vac VAC"), mv=(1e-3, "mV"), kv=(1e3, "kV")),
        D.RESISTANCE: _spell(
            ohm=(1.0, "ohm ohms Ω R"),
            milli=(1e-3, "mohm mΩ"),
            kilo=(1e3, "kohm kohms kΩ kilohm kilohms"),
            mega=(1e6, "Mohm Mohms MΩ megohm megohms megaohm"),
            giga=(1e9, "Gohm GΩ"),
        ),
        D.TIME: _spell(
            s=(1.0, "s sec secs second seconds"),
            min=(60.0, "min mins minute minutes"),
            h=(3600.0, "h hr hrs hour hours"),
            day=(86_400.0, "d day days"),
            week=(604_800.0, "week weeks"),
            month=(f.SECONDS_PER_YEAR / 12.0, "month months"),
            year=(f.SECONDS_PER_YEAR, "y yr yrs year years"),
        ),
        D.FRACTION: MappingProxyType({"": 1.0, "%": 1e-2, "percent": 1e-2, "%RH": 1e-2}),
        D.NUMBER: MappingProxyType({"": 1.0}),
        D.FREQUENCY: _spell(hz=(1.0, "Hz hertz"), khz=(1e3, "kHz")),
        D.ROTATIONAL_SPEED: _spell(
            s=(1.0, "1/s s-1 rps Hz"), rpm=(1.0 / 60.0, "rpm 1/min min-1 r/min")
        ),
        D.MASS_FLOW: _spell(
            kgs=(1.0, "kg/s"),
            gs=(1e-3, "g/s"),
            kgh=(1.0 / 3600.0, "kg/h kg/hr"),
            gh=(1e-3 / 3600.0, "g/h g/hr"),
            gmin=(1e-3 / 60.0, "g/min"),
            lbh=(f.KILOGRAM_PER_POUND / 3600.0, "lb/h lb/hr"),
            gyr=(1e-3 / f.SECONDS_PER_YEAR, "g/yr g/year g/y g/a"),
            ozyr=(f.KILOGRAM_PER_OUNCE / f.SECONDS_PER_YEAR, "oz/yr oz/year oz/y"),
        ),
        # At what temperature the volume counts is not in the unit; the reader must carry it.
        D.THROUGHPUT: _spell(
            pa=(1.0, "Pam3/s"),
            mbar=(0.1, "mbarl/s mbarL/s hPal/s"),
            atm=(f.STANDARD_ATMOSPHERE_PA * 1e-6, "atmcc/s atmcm3/s stdcc/s stdcm3/s scc/s sccs"),
            torr=(f.STANDARD_ATMOSPHERE_PA / 760.0 * 1e-3, "torrl/s Torrl/s torrL/s"),
            sccm=(f.STANDARD_ATMOSPHERE_PA * 1e-6 / 60.0, "sccm"),
        ),
        D.CONDUCTANCE: _spell(wk=(1.0, "W/K W/°C"), mwk=(1e-3, "mW/K")),
        D.CONDUCTANCE_PER_LENGTH: _spell(wmk=(1.0, "W/mK W/m/K Wm-1K-1")),
        D.HEAT_TRANSFER_COEFFICIENT: _spell(wm2k=(1.0, "W/m2K W/m2/K Wm-2K-1")),
        D.THERMAL_RESISTANCE: _spell(kw=(1.0, "K/W °C/W")),
        D.LOSS_COEFFICIENT: _spell(m4=(1.0, "1/m4 m-4")),
    }
)


def _folded(table: Mapping[str, float]) -> Mapping[str, float]:
    """Spellings without regard to case, where that cannot change the value."""
    seen: dict[str, set[float]] = {}
    for word, factor in table.items():
        seen.setdefault(word.lower(), set()).add(factor)
    return MappingProxyType({w: next(iter(v)) for w, v in seen.items() if len(v) == 1})


_FOLDED = MappingProxyType({dimension: _folded(table) for dimension, table in FACTORS.items()})
_DEGREES_FOLDED = MappingProxyType({word.lower(): scale for word, scale in DEGREES.items()})


def factor_of(unit: str, dimension: D) -> float | None:
    """SI worth of a squeezed unit in that dimension, None if it is not one of its units.

    Parameters
    ----------
    unit : str
        From `squeeze`.
    dimension : Dimension
        In which it is looked for.

    Returns
    -------
    float or None
        SI units in one of it; None if it is not one of the dimension's units. [SI]
    """
    table = FACTORS.get(dimension)
    if table is None:
        return None
    return table.get(unit, _FOLDED[dimension].get(unit.lower()))


def degree_of(unit: str) -> str | None:
    """`KELVIN`, `CELSIUS` or `FAHRENHEIT` for a squeezed unit, None otherwise.

    Parameters
    ----------
    unit : str
        From `squeeze`.

    Returns
    -------
    str or None
        One of the three; None for any other unit.
    """
    return DEGREES.get(unit, _DEGREES_FOLDED.get(unit.lower()))
