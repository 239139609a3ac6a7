/** The address under which the build serves a file of a package. */
declare module '*?url' {
  const address: string;
  export default address;
}
