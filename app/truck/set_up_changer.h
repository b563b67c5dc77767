// SPDX-License-Identifier: GPL-3.0-or-later
// The utility's own values in the place of what was worked out, for this valve or its whole
// street, with who and why; and set-ups kept under a name.
#pragma once

#include "app/commands/work_zone.h"

#include <QWidget>

class QGridLayout;
class QKeyEvent;
class QLabel;
class QLineEdit;

namespace keyround {

class BigButton;

class SetUpChanger final : public QWidget
{
    Q_OBJECT
public:
    explicit SetUpChanger(Session &session, QWidget *parent = nullptr);

    void open(const Valve &valve);
    [[nodiscard]] bool isOpenFor(const ValveId &valve) const { return m_valve.id == valve; }
    [[nodiscard]] QWidget *firstField() const;
    bool takeKey(QKeyEvent *event);

Q_SIGNALS:
    void done(); ///< kept, taken back or left

private:
    QLineEdit *addField(QGridLayout *grid, int row, int column, const char *name,
                        const QString &label);
    void fill(const SetUpOverride &change);
    [[nodiscard]] Result<SetUpOverride> typed() const;
    void keep(ZoneScope scope);
    void takeBack();
    void useSaved();
    void close();
    void refuse(const QString &why);

    Session &m_session;
    Valve m_valve;
    QLineEdit *m_by = nullptr;
    QLineEdit *m_why = nullptr;
    QLineEdit *m_cones = nullptr;
    QLineEdit *m_flaggers = nullptr;
    QLineEdit *m_people = nullptr;
    QLineEdit *m_taper = nullptr;
    QLineEdit *m_buffer = nullptr;
    QLineEdit *m_name = nullptr;
    QLabel *m_message;
    BigButton *m_saved;
    std::size_t m_nextSaved = 0;
};

} // namespace keyround
