"""Hand-knitted construction as a graph of loops."""
