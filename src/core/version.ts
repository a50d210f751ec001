/** Version of the engine, written into every document. Kept equal to package.json by a test. */
export const ENGINE_VERSION = '0.2.0'
