/** Six seconds of welding, enough for a first run; the README shows the same block. */
const block = '{"interval": 1000, "current": [612, 609, 611, 613, 610, 612], "voltage": 31.2, "travelSpeed": 520}';

/** A line for a terminal that sends a first reading to that broker. */
export function firstLine(host: string, port: number): string {
  return `mosquitto_pub -h ${host} -p ${port} -q 1 -t weld/hall-a/c1/readings -m '${block}'`;
}

/** The host of the broker as others reach it; a broker that listens on every address is reached by the name in this page's address. */
export function reachableHost(host: string, pageHost: string): string {
  return host === '0.0.0.0' || host === '::' || host === '' ? pageHost : host;
}
