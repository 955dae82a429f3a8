"""Write docs/checks.md: ``python -m bench.checks``."""

from __future__ import annotations

from collections import Counter

from bench.checks.page import PAGE, all_parts, all_rows, page


def main() -> None:
    """Compute every row, write the page, print the count of verdicts."""
    PAGE.write_text(page(all_parts()), encoding="utf-8")
    count = Counter(row.verdict.value for row in all_rows())
    print(f"{PAGE.name}: " + ", ".join(f"{n} {verdict}" for verdict, n in sorted(count.items())))


if __name__ == "__main__":
    main()
