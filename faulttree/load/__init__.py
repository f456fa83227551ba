"""From text to model: YAML with positions, shape, model."""
