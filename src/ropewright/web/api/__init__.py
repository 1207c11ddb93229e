"""The JSON API for phones and programs: who am I, ropes, field cards, entries, photos.

This part knows the shapes of requests and answers.  It refuses to judge and to keep anything:
entries go to the book as they are, and the book says what became of each.
"""

from ropewright.web.api.entries import take_entries

__all__ = ["take_entries"]
