"""What a demonstrator takes along: run sheet, packing list, stock list, stopwatch, calendar."""
