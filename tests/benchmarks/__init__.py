"""A package, since some releases of pint and pyarrow install one of this name, too."""
