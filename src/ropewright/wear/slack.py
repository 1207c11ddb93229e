"""Slack rope in a log: hardly any load while the hook's reading goes down.

The block then rests on something and the drum lays loose rope out; where the rope lies is not
known until it is under tension again.
"""

import numpy as np

from ropewright.wear.model import Mask, Readings
from ropewright.wear.settings import Counting


class SlackWatch:
    """Watches a log for slack rope, piece by piece.

    ``spells`` counts how often rope went slack; ``can_tell`` is false if the block's mass is not
    known.
    """

    def __init__(self, counting: Counting) -> None:
        """Start with a rope under tension."""
        self._below_t = counting.slack_below_t
        self._least_m = counting.jitter_m
        self._slack = False
        self._hook_m: float | None = None
        self.spells = 0

    @property
    def can_tell(self) -> bool:
        """Whether slack rope can be seen at all."""
        return self._below_t is not None

    def slack(self, hook_m: Readings, load_t: Readings) -> Mask | None:
        """Which samples have slack rope; none at all if no sample has.

        Parameters
        ----------
        hook_m
            (n,) hook heights [m].
        load_t
            (n,) load on the falls, block included; not-a-number if not known [t].
        """
        below = self._below_t
        if below is None or not hook_m.size:
            return None
        if not self._slack and load_t.min() >= below:  # false for not-a-number
            self._hook_m = float(hook_m[-1])
            return None
        high = load_t >= below
        index = np.arange(hook_m.size)
        last_high = np.maximum.accumulate(np.where(high, index, -1))
        known = self._hook_m if self._hook_m is not None else float(hook_m[0])
        tight_at = np.where(last_high >= 0, hook_m[last_high], known)
        paid_out = (load_t < below) & (hook_m < tight_at - self._least_m)
        last_paid = np.maximum.accumulate(np.where(paid_out, index, -1))
        slack: Mask = ~high & ((last_paid > last_high) | (self._slack & (last_high < 0)))
        begins = slack & ~np.concatenate([[self._slack], slack[:-1]])
        self.spells += int(np.count_nonzero(begins))
        self._slack = bool(slack[-1])
        self._hook_m = float(tight_at[-1])
        return slack if slack.any() else None
