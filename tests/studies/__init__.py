"""Tests of studies; a package, so that a fixture can last as long as they do."""
