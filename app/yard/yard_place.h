// SPDX-License-Identifier: GPL-3.0-or-later
// The Yard: what is due and why, the map, and the day to scale.
#pragma once

#include "core/common/ids.h"

#include <QWidget>

#include <memory>

namespace keyround {

class Session;

class YardPlace final : public QWidget
{
    Q_OBJECT
public:
    explicit YardPlace(Session &session, QWidget *parent = nullptr);
    ~YardPlace() override;

    /// The round that is shown; null when none is.
    [[nodiscard]] RoundId chosenRound() const;

Q_SIGNALS:
    void sheetWanted(const RoundId &round);
    void gpxWanted(const RoundId &round);
    void importWanted();

private:
    struct Parts;
    std::unique_ptr<Parts> m_parts;
};

} // namespace keyround
