/** Version of the listener that hears takes again; raised whenever the same sound could give other notes. */
export const LISTENER_VERSION = 13;
