"""Lessons as clean pages: `lowside class`. Nothing is fetched from outside; loopback by default."""

from lowside.handouts.prose import Formulas
from voila.exporter import VoilaMarkdownRenderer


class Prose(Formulas, VoilaMarkdownRenderer):
    """Formulas as MathML, which needs no script."""


c = get_config()  # noqa: F821 (Jupyter gives it)
c.VoilaExporter.markdown_renderer_class = Prose
c.VoilaConfiguration.template = "lowside"
c.VoilaConfiguration.show_tracebacks = False
c.VoilaConfiguration.strip_sources = True
c.Voila.ip = "127.0.0.1"
c.MappingKernelManager.cull_idle_timeout = 900
c.MappingKernelManager.cull_interval = 60
c.MappingKernelManager.cull_connected = True
