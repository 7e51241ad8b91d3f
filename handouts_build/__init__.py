"""Project files in; worked-out dimensions, drawings, pages and papers out."""
