/** Owns where a picture is fetched from: the server, or the page itself where it was taken home. */
import { createContext } from 'react';
import { type Picture, pictureAddress } from '../../movement/picture.ts';

export const PictureAddress = createContext<(picture: Picture) => string>(pictureAddress);

/** From a file's own pictures; one that was left behind has no address, and is shown by its words. */
export const addressInFile = (pictures: Readonly<Record<string, string>>) => ({ file }: Picture): string => pictures[file] ?? 'data:,';
