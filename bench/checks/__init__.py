"""Everything the model is held to, computed again and told: ``python -m bench.checks``.

Each module gives the rows of one part of docs/checks.md. A row carries what is held, its
source and how that is known, their figure, ours, the deviation, what is allowed and by whom,
and a verdict that is shown either way.
"""
