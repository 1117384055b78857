"""Ground floor: lengths, intervals, sourced values, errors. No masonry words here."""
