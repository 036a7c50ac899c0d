"""Heels, a file each. A file of your own: decorate its class with `heel`."""
