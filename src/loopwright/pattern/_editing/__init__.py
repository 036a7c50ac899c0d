"""Technical editing: what does not follow in a pattern, and in a text by itself."""
