import { spawn, spawnSync } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** A message bus of our own: the system's stays untouched. */
export interface PrivateBus {
  readonly address: string;
  stop(): Promise<void>;
}

/** Whether this machine has a message bus daemon. */
export function hasBusDaemon(): boolean {
  return spawnSync('dbus-daemon', ['--version']).status === 0;
}

const CONFIG = (socket: string) => `<!DOCTYPE busconfig PUBLIC
  "-//freedesktop//DTD D-Bus Bus Configuration 1.0//EN"
  "http://www.freedesktop.org/standards/dbus/1.0/busconfig.dtd">
<busconfig>
  <type>session</type>
  <listen>unix:path=${socket}</listen>
  <auth>EXTERNAL</auth>
  <policy context="default">
    <allow send_destination="*" eavesdrop="true"/>
    <allow eavesdrop="true"/>
    <allow own="*"/>
    <allow user="*"/>
  </policy>
</busconfig>`;

/** Starts a daemon. @throws Error when there is none */
export async function startPrivateBus(): Promise<PrivateBus> {
  const folder = mkdtempSync(join(tmpdir(), 'private-bus-'));
  const config = join(folder, 'bus.conf');
  writeFileSync(config, CONFIG(join(folder, 'socket')));
  const daemon = spawn('dbus-daemon', [`--config-file=${config}`, '--nofork', '--print-address'], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const [address] = (await once(daemon.stdout, 'data')) as [Buffer];
  return {
    address: address.toString().trim(),
    stop: async () => {
      const exited = once(daemon, 'exit');
      daemon.kill();
      await exited;
      rmSync(folder, { recursive: true });
    },
  };
}
