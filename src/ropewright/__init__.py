"""Ropewright: from what was found on a crane's wire rope to a verdict that names its clause.

It takes what an inspector found, holds it against the rules that govern the rope, each in its own
window and against its own baseline, and says which clause is reached, what could not be judged and
what is left to a competent person. It advises; a person decides and signs.

The rooms are listed, with who may use whom, in pyproject.toml under ``tool.importlinter``. Nothing
is gathered here: import from the room that knows (``ropewright.rules``, ``ropewright.rope``, ...).
"""

__all__ = ["__version__"]

__version__ = "0.1.0"
