/** An image that is imported gives its address. */
declare module '*.svg' {
  const address: string;
  export { address as default };
}
