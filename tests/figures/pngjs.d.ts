/** What the tests use of pngjs, which comes without declarations. */
declare module "pngjs" {
  export class PNG {
    width: number;
    height: number;
    data: Buffer;
    static readonly sync: Readonly<{
      read: (bytes: Uint8Array) => PNG;
      write: (
        picture: PNG,
        options?: Readonly<{ colorType?: number; deflateLevel?: number }>,
      ) => Buffer;
    }>;
  }
}
