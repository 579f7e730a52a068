declare module "*.svg?raw" {
  const text: string;
  // biome-ignore lint/style/noDefaultExport: that is how the builder hands over a file as text
  export default text;
}
