"""From a text to a pattern: what each of its sentences means where it stands."""
