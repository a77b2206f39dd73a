"""What each lesson shows: a module ``lNN`` with ``PICTURES`` and ``PANELS`` (see ``page``)."""
