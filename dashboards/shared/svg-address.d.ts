/** An image that is imported gives its address. */
declare module '*.svg' {
  const address: string;
  // eslint-disable-next-line no-restricted-exports -- it is how the bundler gives it
  export default address;
}
