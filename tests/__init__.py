"""The tests mirror the modules: pure ones, then pilot, then pictures, then a real terminal."""
