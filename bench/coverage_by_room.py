"""Line coverage of every room from the data the last `make quick` left.

python -m bench.coverage_by_room
"""

from __future__ import annotations

from collections import defaultdict
from pathlib import Path

import coverage

PACKAGE = Path(__file__).parent.parent / "src" / "coldwright"


def room_of(path: Path) -> str:
    """The room a file lies in; files beside the rooms count together."""
    parts = path.relative_to(PACKAGE).parts
    return parts[0] if len(parts) > 1 else "(beside the rooms)"


def by_room(data: coverage.Coverage) -> dict[str, tuple[int, int]]:
    """Lines that ran and lines there are, by room."""
    ran: defaultdict[str, list[int]] = defaultdict(lambda: [0, 0])
    for path in sorted(PACKAGE.rglob("*.py")):
        _, lines, _, missing, _ = data.analysis2(str(path))
        count = ran[room_of(path)]
        count[0] += len(lines) - len(missing)
        count[1] += len(lines)
    return {room: (count[0], count[1]) for room, count in sorted(ran.items())}


def main() -> None:
    """Print a line per room and one for all."""
    data = coverage.Coverage()
    data.load()
    rooms = by_room(data)
    rooms["all"] = (sum(r for r, _ in rooms.values()), sum(n for _, n in rooms.values()))
    print("line coverage (compiled kernels run unseen)")
    for room, (ran, lines) in rooms.items():
        print(f"  {room:20} {100.0 * ran / max(lines, 1):3.0f} %  {ran} of {lines}")


if __name__ == "__main__":
    main()
