// SPDX-License-Identifier: GPL-3.0-or-later
// Writing the report while the network is built: every sentence of it is in network_notes.cpp.
// Used within core/mains only.
#pragma once

#include "core/mains/build_network.h"

namespace keyround {

class NetworkNotes
{
public:
    explicit NetworkNotes(const NetworkOptions &options) : m_options(options) {}

    /// Of a main, a valve, a hydrant, a service or a source.
    enum class Thing { Main, Valve, Hydrant, Service, Source };

    void noMains();
    void noSource(std::size_t pieces);
    void pieceWithoutSource(const QString &main, const GeoPoint &place, int mains, Metres length,
                            const Load &load);
    void mainNotUsable(const QString &main, bool hasPlaces, const GeoPoint &place);
    void mainPlacesLeftOut(const QString &main, std::size_t count, const GeoPoint &place);
    void mainTwice(const QString &main, const QString &other, bool leftOut, const GeoPoint &place);
    void mainInParts(const QString &main, const QStringList &parts, const GeoPoint &place);
    void numberTwice(Thing thing, const QString &number, const GeoPoint &place);
    void endStopsShort(const QString &main, LineEnd end, const QString &other, double metres,
                       const GeoPoint &place);
    void crossingApart(const QString &main, const QString &other, const GeoPoint &place);
    /// `nearest` is empty when there is no main at all.
    void notPlaced(Thing thing, const QString &number, const GeoPoint &place,
                   const QString &nearest, double metres, bool critical = false);
    void withoutPlace(Thing thing, const QString &number, const QString &main = {});
    void valveRetired(const QString &valve, const GeoPoint &place);
    void valveAmbiguous(const QString &valve, const GeoPoint &place,
                        std::vector<BranchChoice> choices);
    void valveInLoop(const QString &valve, const GeoPoint &place);
    void valveWithNothingBehind(const QString &valve, const GeoPoint &place, Metres behindIt,
                                bool hydrantLead);
    void serviceMainUnknown(const QString &service, const QString &main, const QString &instead,
                            const GeoPoint &place);
    void serviceFarFromItsMain(const QString &service, const QString &main, double metres,
                               const GeoPoint &place);
    /// `what`: the decision in words, "valve V-3 on main WM-7".
    void fixNotUsed(const QString &what, const QString &number, const QString &why);

    /// Sorted: faults first, then by kind and number.
    [[nodiscard]] NetworkReport take();

private:
    NetworkNote &add(NetworkNoteKind kind, NoteWeight weight, const QString &number,
                     const GeoPoint &place, const QString &message);
    [[nodiscard]] QString length(double metres) const
    {
        return lengthText(Metres{metres}, m_options.units);
    }

    const NetworkOptions &m_options;
    NetworkReport m_report;
};

} // namespace keyround
