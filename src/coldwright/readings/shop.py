"""The shop's settings: rates, prices, stock. One TOML file, currency named, never converted."""

from __future__ import annotations

import tomllib
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from coldwright.errors import BadInput, one_line
from coldwright.plain_file import read_plain
from coldwright.readings import keys
from coldwright.readings.mending import Prices
from coldwright.readings.mending_section import prices_of
from coldwright.readings.reader import Reader, Table
from coldwright.units import Dimension as D

# Inside diameters of capillary that the trade keeps; common practice, no published source.
USUAL_BORES_M = (0.55e-3, 0.61e-3, 0.66e-3, 0.71e-3, 0.79e-3, 0.91e-3, 1.07e-3)
TORQUES = ("low", "high")
OILS = ("mineral", "alkylbenzene", "polyol_ester")
RATINGS = ("ashrae", "cecomaf")
_BORE = keys.QuantityKey("bore", D.LENGTH, 2e-4, 5e-3, "inside diameter of a capillary")
_DISPLACEMENT = keys.QuantityKey("displacement", D.VOLUME, 1e-6, 1e-4, "displacement")
_VOLTAGE = keys.PLATE_QUANTITIES["voltage"]
_FREQUENCY = keys.PLATE_QUANTITIES["frequency"]
_CAPACITY = keys.QuantityKey("capacity", D.POWER, 10.0, 2000.0, "cooling capacity at rating")


@dataclass(frozen=True, slots=True)
class StockCompressor:
    """A compressor on the shelf, as its label says."""

    name: str
    refrigerant: str
    displacement_m3: float
    voltage_v: float
    frequency_hz: float
    torque: str | None = None
    oil: str | None = None
    capacity_w: float | None = None
    rating: str | None = None


@dataclass(frozen=True, slots=True)
class Shop:
    """Everything that differs from shop to shop."""

    name: str = ""
    currency: str = ""
    prices: Prices = field(default_factory=Prices)
    bores_m: tuple[float, ...] = USUAL_BORES_M
    compressors: tuple[StockCompressor, ...] = ()
    room_by_month: tuple[tuple[float, float], ...] = ()  # (temperature [K], humidity [-]) x 12


NO_SHOP = Shop()
_LARGEST_BYTES = 1_000_000


def load_shop(path: Path) -> Shop:
    """Read a shop file.

    Parameters
    ----------
    path : Path
        The file.

    Returns
    -------
    Shop
        Name, prices, stock [m] and rooms by month [K].

    Raises
    ------
    BadInput
        If it cannot be read or holds anything that cannot be used; a price names the
        effect of leaving it out.
    """
    try:
        table = tomllib.loads(read_plain(path, _LARGEST_BYTES, "a shop file").decode("utf-8-sig"))
    except (tomllib.TOMLDecodeError, UnicodeDecodeError) as error:
        raise BadInput(str(path), "", one_line(str(error)), "TOML as in docs/repair.md") from None
    return shop_of(table, str(path))


def shop_of(table: Table, source: str) -> Shop:
    """A shop from its table.

    Parameters
    ----------
    table : mapping
        The file as plain values.
    source : str
        Name for messages.

    Returns
    -------
    Shop
        As `load_shop`.

    Raises
    ------
    BadInput
        As `load_shop`.

    Examples
    --------
    >>> shop_of({"name": "Corner shop"}, "shop.toml").name
    'Corner shop'
    """
    reader = Reader(source)
    reader.known("", table, ("name", "currency", "prices", "stock", "room_by_month"))
    fields: dict[str, Any] = {
        name: reader.text(name, table[name]) for name in ("name", "currency") if name in table
    }
    fields["prices"] = prices_of(reader, "prices", reader.table("prices", table.get("prices", {})))
    stock = reader.table("stock", table.get("stock", {}))
    reader.known("stock", stock, ("bores", "compressors"))
    if "bores" in stock:
        raw = stock["bores"]
        if not isinstance(raw, list) or not raw:
            raise reader.fail("stock.bores", raw, "a list of bores such as ['0.66 mm', '0.79 mm']")
        fields["bores_m"] = tuple(sorted(reader.quantity("stock.bores", b, _BORE) for b in raw))
    if "compressors" in stock:
        raw = stock["compressors"]
        if not isinstance(raw, list):
            raise reader.fail("stock.compressors", raw, "a list of tables [[stock.compressors]]")
        fields["compressors"] = tuple(
            _compressor(reader, f"stock.compressors[{i}]", item) for i, item in enumerate(raw, 1)
        )
    if "room_by_month" in table:
        fields["room_by_month"] = _months(reader, table["room_by_month"])
    return Shop(**fields)


def _compressor(reader: Reader, path: str, raw: object) -> StockCompressor:
    table = reader.table(path, raw)
    must = ("name", "refrigerant", "displacement", "voltage", "frequency")
    reader.known(path, table, (*must, "torque", "oil", "capacity", "rating"))
    for name in must:
        if name not in table:
            raise reader.fail(f"{path}.{name}", None, "its label's " + name)
    choices = {"torque": TORQUES, "oil": OILS, "rating": RATINGS}
    more: dict[str, Any] = {
        name: reader.choice(f"{path}.{name}", table[name], allowed)
        for name, allowed in choices.items()
        if name in table
    }
    if "capacity" in table:
        if "rating" not in table:
            raise reader.fail(f"{path}.rating", None, "ashrae or cecomaf: a capacity is worth "
                              "nothing without its rating point")  # fmt: skip
        more["capacity_w"] = reader.quantity(f"{path}.capacity", table["capacity"], _CAPACITY)
    return StockCompressor(
        reader.text(f"{path}.name", table["name"]),
        reader.refrigerant(f"{path}.refrigerant", table["refrigerant"]),
        reader.quantity(f"{path}.displacement", table["displacement"], _DISPLACEMENT),
        reader.quantity(f"{path}.voltage", table["voltage"], _VOLTAGE),
        reader.quantity(f"{path}.frequency", table["frequency"], _FREQUENCY),
        **more,
    )


def _months(reader: Reader, raw: object) -> tuple[tuple[float, float], ...]:
    wanted = "a list of 12 { temperature, humidity }, January first"
    if not isinstance(raw, list) or len(raw) != 12:
        raise reader.fail("room_by_month", raw, wanted)
    months = []
    for number, item in enumerate(raw, 1):
        path = f"room_by_month[{number}]"
        table = reader.table(path, item)
        reader.known(path, table, ("temperature", "humidity"))
        for name in ("temperature", "humidity"):
            if name not in table:
                raise reader.fail(f"{path}.{name}", None, wanted)
        months.append(
            (
                reader.quantity(
                    f"{path}.temperature", table["temperature"], keys.ROOM_QUANTITIES["temperature"]
                ),
                reader.quantity(
                    f"{path}.humidity", table["humidity"], keys.ROOM_QUANTITIES["humidity"]
                ),
            )
        )
    return tuple(months)
