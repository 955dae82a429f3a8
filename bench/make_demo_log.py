"""The invented shop's log: a simulated appliance over hours, sampled with a logger's errors.

Run as ``python -m bench.make_demo_log``. Appliance, owner and log are made up: the middle
member of a family with poor air over its condenser runs for hours (`usecases.pulldown`), and
every minute is noted with one bias per thermometer, correlated noise and the logger's step.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np

import coldwright
from coldwright.readings.jobfile import job_from_text
from coldwright.usecases.pulldown import Asked, pulldown

FOLDER = Path(coldwright.__file__).parent / "demo"
NAME = "laundry-upright"
FAULT = ("condenser_air", 0.3)
HOURS, SKIPPED_S, STEP_S = 26.0, 12.0 * 3600.0, 60.0
SEED = 31
JOB = """\
# Invented for the demonstration: shop, owner, appliance and log are made up.
# The log comes from a simulated appliance with a logger's errors (bench/make_demo_log.py).

title = "Upright freezer in the laundry, logged overnight (invented)"

[plate]
kind = "upright_freezer"
year = 2013
refrigerant = "R600a"
voltage = "230 V"
frequency = "50 Hz"

[circuit]
layout = "plain"
condenser = "static"
evaporator = "plate"

[history]
complaint = "runs_all_the_time"
earlier_repair = false

[taken]
log = "laundry-upright.csv"
instrument = { thermometer = "probe" }
"""
# column, field of a sample, bias and noise [K or W], step shown
COLUMNS = (
    ("appliance_power [W]", "power_w", 0.6, 0.5, 1),
    ("shell_temperature [°C]", "shell_k", 0.4, 0.15, 1),
    ("condenser_middle_temperature [°C]", "condenser_k", 0.4, 0.15, 1),
    ("freezer_temperature [°C]", "freezer_k", 0.3, 0.15, 1),
)
ROOM_C, CORRELATION = 27.0, 0.7  # of noise from one minute to the next
START = np.datetime64("2026-06-03T20:00")


def noise(size: int, sd: float, rng: np.random.Generator) -> np.ndarray:
    """First-order autoregressive noise of that standard deviation."""
    out = np.empty(size)
    out[0] = rng.standard_normal()
    for i in range(1, size):
        fresh = np.sqrt(1.0 - CORRELATION**2) * rng.standard_normal()
        out[i] = CORRELATION * out[i - 1] + fresh
    return sd * out


def log_text(rng: np.random.Generator) -> str:
    """The log as CSV."""
    room = f'\n[room]\ntemperature = "{ROOM_C} °C"\n'
    job = job_from_text(JOB + room, f"{NAME}.toml")
    run = pulldown(job, Asked(hours=HOURS, warm_start=False, faults=(FAULT,))).result
    times = np.array([s.time_s for s in run.samples])
    grid = np.arange(SKIPPED_S, 3600.0 * HOURS, STEP_S)
    rows = [
        str(START + np.timedelta64(int(g - SKIPPED_S), "s")).replace("T", " ")[:16] for g in grid
    ]
    heads = ["time"]
    for head, field, bias, sd, digits in COLUMNS:
        true = np.array([getattr(s, field) for s in run.samples])
        # What draws power or not has steps: the last sample stands, as a meter shows it.
        after = np.clip(np.searchsorted(times, grid, side="right") - 1, 0, None)
        x = true[after] if field == "power_w" else np.interp(grid, times, true)
        x = x - 273.15 if "°C" in head else x
        x = x + bias * rng.standard_normal() + noise(grid.size, sd, rng)
        if field == "power_w":
            x = np.maximum(x, 0.0)
        heads.append(head)
        rows = [f"{row},{value:.{digits}f}" for row, value in zip(rows, x, strict=True)]
    x = ROOM_C + 0.2 * rng.standard_normal() + noise(grid.size, 0.2, rng)
    heads.append("ambient_temperature [°C]")
    rows = [f"{row},{value:.1f}" for row, value in zip(rows, x, strict=True)]
    return "\n".join([",".join(heads), *rows]) + "\n"


def main() -> None:
    """Write job file and log."""
    (FOLDER / f"{NAME}.toml").write_text(JOB, encoding="utf-8")
    text = log_text(np.random.default_rng(SEED))
    (FOLDER / f"{NAME}.csv").write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
