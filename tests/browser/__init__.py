"""The page in a browser; a package, so that its tests share one."""
