"""How fast the main jobs are, against targets that were set beforehand.

``python -m benchmarks`` prints a table and ends with code 1 if a target is missed.  Ropes are made
by a seeded generator that knows no rule; a sample of the results is compared, byte for byte, with
what a plain process makes of the same ropes.
"""
