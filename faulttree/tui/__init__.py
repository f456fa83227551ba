"""The ramp screen: a walk from symptom to corrective action on a whole terminal, one hand free."""
