/**
 * Stands in the bundle where a library would bring in sockets or other programs (`net`, `child_process`): the server has neither. The build
 * puts it there, and a test looks.
 */
export {};
