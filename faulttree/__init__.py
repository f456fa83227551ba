"""faulttree: from a symptom to a confirmed corrective action, by decision trees that are proved sound."""

__version__ = "0.1.0"
