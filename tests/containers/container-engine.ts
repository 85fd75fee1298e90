import { getContainerRuntimeClient, ImageName } from 'testcontainers';
import { publicBroker } from './image-names.js';
import { answers, startOwnEngine, whyNoOwnEngine } from './own-engine.js';

export interface Engine {
  /** Whether to use the published images, or images made here from this machine's programs. */
  readonly images: 'public' | 'made here';
  stop(): Promise<void>;
}

/**
 * Decides once for a test file what its containers run on, and prints what it chose: the engine that is there, or else one
 * of our own; the published images, or else some that are made on the spot. Null where no engine can be had.
 */
export async function containerEngine(): Promise<Engine | null> {
  try {
    const engine = await choose();
    if (typeof engine !== 'string') return engine;
    console.warn(`skipped: tests with containers: ${engine}`);
  } catch (error) {
    console.warn(`skipped: tests with containers: ${error instanceof Error ? error.message : String(error)}`);
  }
  return null;
}

async function choose(): Promise<Engine | string> {
  if (process.platform !== 'linux') return 'the service runs in the network of the host, which only Linux has';
  const there = await engineThere();
  if (there !== null) {
    process.env['DOCKER_HOST'] = there;
    const client = await getContainerRuntimeClient();
    const { operatingSystem } = client.info.containerRuntime;
    if (operatingSystem.includes('Desktop')) return `${operatingSystem} runs containers in a machine of its own, whose loopback is not this one's`;
    const pulled = await client.image.pull(ImageName.fromString(publicBroker())).then(() => true, () => false);
    console.log(`containers: the engine at ${there}, ${pulled ? 'published images' : 'images made here, because none can be pulled'}`);
    if (!pulled) useLocally();
    return { images: pulled ? 'public' : 'made here', stop: () => Promise.resolve() };
  }
  const reason = whyNoOwnEngine();
  if (reason !== null) return `no container engine answers, and none can be started: ${reason}`;
  const own = await startOwnEngine();
  process.env['DOCKER_HOST'] = own.host;
  useLocally();
  console.log('containers: an engine of our own, images made here');
  return { images: 'made here', stop: () => own.stop() };
}

/** The address of an engine that answers, or null. */
async function engineThere(): Promise<string | null> {
  const named = process.env['DOCKER_HOST'];
  const host = named === undefined || named === '' ? 'unix:///var/run/docker.sock' : named;
  return host.startsWith('unix://') && (await answers(host.slice('unix://'.length))) ? host : null;
}

function useLocally(): void {
  // The library's helper that clears up afterwards is an image that would have to be pulled; the tests clear up themselves.
  process.env['TESTCONTAINERS_RYUK_DISABLED'] = 'true';
  // In a container it would look for the published ports on the gateway, where the proxy does not listen.
  process.env['TESTCONTAINERS_HOST_OVERRIDE'] = '127.0.0.1';
}
