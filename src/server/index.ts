/**
 * The server as its command starts it. What needs no HTTP (readings of specimens, storing what was captured) is
 * imported from its own file, so that a short command does not load a server.
 */
export { keepDemoStudy } from './demoStudy.ts'
export { type RunningServer, startServer } from './start.ts'
