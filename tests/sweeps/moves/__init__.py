"""A filled book moved from machine to machine and from engine to engine by its archive alone."""
