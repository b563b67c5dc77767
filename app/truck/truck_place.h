// SPDX-License-Identifier: GPL-3.0-or-later
// The Truck: a day is recorded here, one stop at a time. It leads from page to page (which round,
// the stop, the list of stops, finishing) and comes back after a restart to the field of the stop
// where the work broke off. Nothing here opens a dialog.
#pragma once

#include <QWidget>

#include <memory>

namespace keyround {

class Session;

class TruckPlace final : public QWidget
{
    Q_OBJECT
public:
    explicit TruckPlace(Session &session, QWidget *parent = nullptr);
    ~TruckPlace() override;

    /// True when a stop is open that was half typed: the window may start here.
    [[nodiscard]] bool hasStopUnderWay() const;
    /// Dark, for the night; kept for this machine.
    [[nodiscard]] bool isNight() const;
    void setNight(bool night);

Q_SIGNALS:
    void lookChanged();
    void breakAsked(); ///< a main broke

protected:
    void showEvent(QShowEvent *event) override;
    void hideEvent(QHideEvent *event) override;

private:
    struct Parts;
    std::unique_ptr<Parts> m_parts;
};

} // namespace keyround
