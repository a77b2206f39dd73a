"""One JupyterHub on one server, for a class of thirty (DEVELOPERS.md, "A class on one server").

It answers on loopback: put the college's own web server with TLS in front of it. Who may log in is
left to an authenticator of the hub's own: set `c.JupyterHub.authenticator_class` and the users in a
file of yours that begins with `load_subconfig("binder/jupyterhub_config.py")`.
"""

import sys
from pathlib import Path

CHECKOUT = Path(__file__).resolve().parents[1]
MINUTE = 60

c = get_config()  # noqa: F821 (the hub gives it)

c.JupyterHub.bind_url = "http://127.0.0.1:8000"
c.JupyterHub.hub_ip = "127.0.0.1"
c.ConfigurableHTTPProxy.api_url = "http://127.0.0.1:8001"
c.Spawner.ip = "127.0.0.1"

c.JupyterHub.active_server_limit = 35
c.JupyterHub.concurrent_spawn_limit = 10

# Every learner works in a copy of the lessons, made at the first start and never overwritten.
START = (
    'mkdir -p ~/lowside && cp -Rn "$LOWSIDE_LESSONS"/. ~/lowside; exec jupyterhub-singleuser "$@"'
)
c.Spawner.cmd = ["sh", "-c", START, "sh"]
c.Spawner.notebook_dir = "~/lowside"
c.Spawner.default_url = "/lab/tree/00-start-here.ipynb"
c.Spawner.environment = {
    "LOWSIDE_LESSONS": str(CHECKOUT / "notebooks"),
    "JUPYTER_CONFIG_PATH": str(CHECKOUT / "binder"),
    "PATH": f"{Path(sys.executable).parent}:/usr/local/bin:/usr/bin:/bin",
    # One thread a kernel: thirty kernels that each take every core only stand in each other's way.
    "OMP_NUM_THREADS": "1",
    "OPENBLAS_NUM_THREADS": "1",
}

# A kernel that nobody moved for a lesson's length goes, and ▶▶ brings it back; so does a whole
# server that nobody used. The second needs `pip install jupyterhub-idle-culler`.
c.Spawner.args = [
    f"--MappingKernelManager.cull_idle_timeout={45 * MINUTE}",
    f"--MappingKernelManager.cull_interval={2 * MINUTE}",
    "--MappingKernelManager.cull_connected=True",
]
c.JupyterHub.services = [
    {
        "name": "idle-culler",
        "command": [sys.executable, "-m", "jupyterhub_idle_culler", f"--timeout={90 * MINUTE}"],
    }
]
c.JupyterHub.load_roles = [
    {
        "name": "idle-culler",
        "scopes": ["list:users", "read:users:activity", "read:servers", "delete:servers"],
        "services": ["idle-culler"],
    }
]
