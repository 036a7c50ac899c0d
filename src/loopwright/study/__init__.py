"""Studies: many heels on many feet."""
