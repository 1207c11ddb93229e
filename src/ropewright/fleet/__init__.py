"""Hands for many logs: one process, all cores or a cluster, and results kept beside the files.

This room knows how to run one job after another, on all cores, or on a cluster that somebody
else keeps; how to go on when a worker dies; and how to keep the result of a file so that it need
not be counted twice.  It refuses to know what the jobs are about: what is counted, and what
comes of it, is for the desk.
"""

from ropewright.fleet.cluster import Cluster
from ropewright.fleet.crews import AllCores, OneByOne
from ropewright.fleet.kept import KeptBeside
from ropewright.fleet.layout import fleet_jobs

__all__ = ["AllCores", "Cluster", "KeptBeside", "OneByOne", "fleet_jobs"]
