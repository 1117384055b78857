"""What published documents say: typed keys, the loader, one folder per country."""
