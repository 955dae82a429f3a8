"""Published figures the model cannot be held to yet: listed, so that none is forgotten."""

from __future__ import annotations

from bench.checks.row import Known, Part, Row, Source, not_yet

A, M, N = Known.ABSTRACT, Known.MEMORY, Known.NOTHING
PUMP = "the layout is read, and refused"


def parts() -> tuple[Part, ...]:
    """All of them."""
    words = (
        "Each has a figure we know of and no counterpart in the model, or a figure we could not "
        "read. Nothing here is counted as right."
    )
    return (Part("Not yet", words, ROWS),)


def _row(key: str, held: str, text: str, known: Known, published: str, why: str) -> Row:
    return not_yet(key, held, Source(text, known), published, why)


ROWS = (
    _row("two-evaporators", "two evaporators, 155 g of R134a in 418 l", "Ghadiri & Rasti 2014", A,
         "hot wall removed and other changes: charge -19.3 %, energy -23.6 %", PUMP),
    _row("pull-down", "pull-down, air temperature and energy of one appliance",
         "Hermes & Melo 2008", A, "energy within 10 %, air within 1 K",
         "the transient is there; their appliance is not described enough in the abstract"),
    _row("pull-down-charges", "pull-down at several charges", "Guzella et al. 2021", A,
         "air within 2.5 to 4 K",
         "the transient is there; their appliance is not described enough in the abstract"),
    _row("cycling-start", "first minute after a start: capacity and power",
         "Krause & Bullard 1994, ACRC TR-58", A, "capacity -2 to -3.3 %, power up to +1.7 %",
         "the start is one rule for what the high side lacks, not resolved second by second"),
    _row("frame-watts", "door-frame loop: watts into the cabinet, temperature of the frame",
         "nothing found", N, "-", "modelled; no published watts or temperatures were found"),
    _row("oil-watts", "oil-cooler loop: watts, temperature of the shell", "nothing found", N, "-",
         "modelled; no published watts or temperatures were found"),
    _row("blends", "propane and isobutane blends in R134a or R12 cabinets",
         "Fatouh & El Kafafy 2006; Jung et al. 2000", A, "energy -10.8 %; efficiency +3 to +4 %",
         "blends have bubble and dew lines for the charge; the running circuit takes one "
         "substance: R134a, R600a, R12, R290 or R22"),
    _row("R1234yf", "optimum charge of R1234yf, 7.8 % below R134a", "Belman-Flores 2017", A,
         "92.2 g", "R1234yf has its lines for the charge, and no tables for the running circuit"),
    _row("suction-exchange", "flow with a bonded suction line",
         "Wolf & Pate 2002, ASHRAE RP-948", M, "coefficients not at hand",
         "the bonded march is held to its own limits only"),
    _row("capillary-data", "measured capillary flows", "Melo et al. 1999; Mikol 1963 and others", A,
         "tables not read", "no measured flow with complete inputs was at hand"),
    _row("valve-leak", "discharge-valve leak matters more than suction-valve leak",
         "Silva & Deschamps 2015", A, "order of the two", "one tightness factor for both"),
    _row("compressor-bands", "compressor models against measurement",
         "Santos, Ronzoni & Hermes 2019", A,
         "within 10 %: 97 % of flows, 93 % of powers", "no compressor data at hand"),
    _row("ageing", "ageing of 2 and 16 years", "Paul et al. 2021", A,
         "energy +11 % and +27 %", "no ageing of foam or gasket in the running model"),
    _row("inventory-shares", "charge per component, measured", "Björk & Palm 2006, parts I and II",
         A, "tables not read", "only the sum and its optimum are held"),
    _row("bottle-cooler", "charge of hydrocarbon bottle coolers from volumes",
         "Purdue IRACC paper 2046", A, "within 15 % on ten appliances",
         "the equation's coefficients were not read"),
    _row("wire-condenser", "multilayer wire-on-tube condenser in forced air",
         "Belman-Flores 2021", A, "within 5 % of capacity", "no such coil in the families"),
    _row("fin-evaporator", "j and f of no-frost evaporators", "Barbosa et al. 2009", A,
         "coefficients not read", "one coefficient stands for the finned coil"),
    _row("appliance", "one complete measured appliance",
         "Hermes & Melo 2008; Borges et al. 2015; Boeng & Melo 2014", A, "not obtained",
         "the greatest lack of all: nothing here is a household appliance that was measured"),
    _row("gauge-band", "chiller: no significant effect within 25 % of charge", "Grace et al. 2005",
         A, "superheat and subcooling sensitive, suction pressure not",
         "a 4 kW water chiller; no counterpart in the families"),
)  # fmt: skip
