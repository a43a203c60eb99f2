import { spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** True where Debian's pulseaudio is installed; tests that need the loop skip without. */
export const hasSoundServer = (): boolean => spawnSync('pulseaudio', ['--version']).status === 0;

/** A sound server of its own whose loudspeaker is its microphone. */
export interface SoundServer {
  /** Environment for the browser that is to use it: `chromium.launch({ env })`. */
  readonly env: Record<string, string>;
  /**
   * Gives the threads that carry sound (the server's and the browser's) real-time priority, so that a
   * busy machine drops no blocks: call it once playing and recording have begun. Without chrt or the right to use it,
   * nothing happens. Among 100 clicks in 20 s at a load of 12 on two cores the way changed 33 times without, 5 times
   * with it, 4 of these in the first 2 s (2026-11-25).
   */
  hurry(): void;
  /** Plays a WAV file into the same microphone, as a player beside the loudspeaker; resolves at its end. */
  playFile(wav: string): Promise<void>;
  close(): void;
}

const readable = (path: string): string => {
  try {
    return readFileSync(path, 'utf8');
  } catch {
    return ''; // ended meanwhile, or another user's
  }
};

const threadsOf = (pid: string | number): string[] => {
  try {
    return readdirSync(`/proc/${pid}/task`);
  } catch {
    return [];
  }
};

/** Threads that carry sound: pulseaudio's client library; Firefox's way from its pages to that, and the graph in a page. */
const CLIENT = 'threaded-ml';
const FIREFOX = /^(AudioIP|MediaTrackGrph)/;

/**
 * The threads that carry sound to and from this server, in the processes that were told of the socket, or whose parent was
 * (Chromium's helpers overwrite their own environment). Chromium's audio process does nothing else: it is all of its threads.
 */
function soundThreads(socket: string): string[] {
  const told = (pid: string): boolean => readable(`/proc/${pid}/environ`).includes(`unix:${socket}\0`);
  return readdirSync('/proc')
    .filter((name) => /^\d+$/.test(name))
    .flatMap((pid) => {
      const parent = /^PPid:\s*(\d+)/m.exec(readable(`/proc/${pid}/status`))?.[1];
      if (!parent || !(told(pid) || told(parent))) return [];
      const names = new Map(
        threadsOf(pid).map((thread) => [thread, readable(`/proc/${pid}/task/${thread}/comm`).trim()]),
      );
      const firefox = [...names].filter(([, name]) => FIREFOX.test(name)).map(([thread]) => thread);
      const client = [...names].filter(([, name]) => name === CLIENT).map(([thread]) => thread);
      if (firefox.length > 0) return [...client, ...firefox];
      return client.length > 0 ? [...names.keys()] : [];
    });
}

/** Playwright's headless default silences the browser: launch with `ignoreDefaultArgs: AUDIBLE`. */
export const AUDIBLE = ['--mute-audio'];

/**
 * Starts pulseaudio with a null sink as its default output and a remap of that sink's monitor as its default input:
 * what the app sends to the loudspeaker comes back into its microphone with the server's real latency. (A monitor
 * itself is not offered as a microphone by browsers; module-loopback drifts and is not used.)
 */
export async function startSoundServer(sampleRate = 48_000): Promise<SoundServer> {
  const home = mkdtempSync(join(tmpdir(), 'twobar-pulse-'));
  const socket = join(home, 'native');
  const env: Record<string, string> = {
    ...(process.env as Record<string, string>),
    PULSE_SERVER: `unix:${socket}`,
    XDG_RUNTIME_DIR: home,
    HOME: home,
  };
  const modules = [
    `module-native-protocol-unix socket=${socket} auth-anonymous=1`,
    `module-null-sink sink_name=speaker rate=${sampleRate} channels=2`,
    'module-remap-source source_name=microphone master=speaker.monitor channels=1 source_properties=device.description=Loop',
  ];
  const server = spawn(
    'pulseaudio',
    [
      ...['-n', '--daemonize=no', '--use-pid-file=no', '--exit-idle-time=-1', '--disallow-exit=yes'],
      ...['--realtime=yes', '--high-priority=yes'],
      ...modules.flatMap((module) => ['-L', module]),
    ],
    { env, stdio: 'ignore' },
  );
  const close = (): void => {
    server.kill();
    rmSync(home, { recursive: true, force: true });
  };
  const pactl = (...args: string[]): boolean => spawnSync('pactl', args, { env }).status === 0;
  for (let tries = 0; !pactl('set-default-source', 'microphone'); tries++) {
    if (tries === 100 || server.exitCode !== null) {
      close();
      throw new Error('pulseaudio did not start within 10 s');
    }
    await new Promise((done) => setTimeout(done, 100));
  }
  pactl('set-default-sink', 'speaker');
  return {
    env,
    hurry: () => {
      for (const thread of [...threadsOf(server.pid!), ...soundThreads(socket)])
        spawnSync('chrt', ['--rr', '--pid', '8', thread]);
    },
    playFile: (wav) =>
      new Promise((done, fail) => {
        const player = spawn('paplay', [wav], { env, stdio: 'ignore' });
        player.on('error', fail);
        player.on('exit', (code) => (code === 0 ? done() : fail(new Error(`paplay ended with ${code}`))));
      }),
    close,
  };
}
