/** How a request is answered. */

import { kept } from "./precache";

/** The app's one page, whatever client route was asked for: page and scripts stay of one version. */
export const shellPage = async (request: Request): Promise<Response> => (await kept("/")) ?? fetch(request);

export const shellFile = async (request: Request): Promise<Response> =>
  (await kept(new URL(request.url).pathname)) ?? fetch(request);
